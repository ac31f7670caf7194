// Reads the keys of one TOML table, each with its kind and range, and names every key that does not
// belong there.
#pragma once

#include <initializer_list>
#include <optional>
#include <string>
#include <string_view>
#include <toml++/toml.h>
#include <utility>
#include <vector>

#include "model/base/geometry.h"
#include "model/reef/layout.h"

#include "sim/input/text/diagnostics.h"
#include "sim/input/text/units.h"

namespace bedshade {

/// Allowed values, ends included, in the unit a kind's messages speak in.
struct Range {
    double low = 0.0, high = 0.0;
    const char* help = "";  ///< added to the message if a value is out of range
};
inline constexpr Range kShare{0.0, 1.0};

enum class Need { optional, required };

template <class T>
using Choices = std::initializer_list<std::pair<const char*, T>>;

/// Every reading function leaves `into` alone, and so its default in place, when the key is absent
/// or its value is invalid; it returns whether `into` was set. What is wrong goes to the problems.
class TableReader {
  public:
    /// `name` is how messages call the table: "tank", or `pump "left"`.
    TableReader(const toml::table& table, std::string name, Diagnostics& diagnostics);

    bool quantity(std::string_view key, double& into, const Quantity& kind, Range range,
                  Need need = Need::optional);
    /// A bare number; `unit` is named in messages and may be empty.
    bool number(std::string_view key, double& into, Range range, std::string_view unit = {},
                Need need = Need::optional);
    /// A bare number in the kind's shown unit, or text with a unit.
    bool number_or_quantity(std::string_view key, double& into, const Quantity& kind, Range range);
    bool whole_number(std::string_view key, int& into, int low, int high,
                      Need need = Need::optional);
    /// A text of at most 200 bytes: a name, a word.
    bool text(std::string_view key, std::string& into, Need need = Need::optional);
    /// A text of any length.
    bool long_text(std::string_view key, std::string& into, Need need = Need::optional);
    bool flag(std::string_view key, bool& into);
    bool date(std::string_view key, CalendarDay& into, Need need = Need::optional);
    /// "10:00" (or a TOML time) as hours from midnight.
    bool hour(std::string_view key, double& into);
    /// Lengths that share one unit, `count` of them: "30 25 4 cm" or an array of quantities.
    bool lengths(std::string_view key, std::vector<double>& into_m, std::size_t count, Range range,
                 Need need = Need::optional, const Quantity& kind = kLength);
    bool point(std::string_view key, Vec3& into_m, Need need = Need::optional);
    bool spot(std::string_view key, Vec2& into_m, Need need = Need::optional);
    template <class T>
    bool choice(std::string_view key, T& into, Choices<T> choices, Need need = Need::optional) {
        std::vector<std::string> words;
        for (const auto& [word, value] : choices) words.emplace_back(word);
        const int at = choice_at(key, words, need);
        if (at >= 0) into = (choices.begin() + at)->second;
        return at >= 0;
    }

    /// A table inside this one, as a reader of its own, or nothing when it is absent.
    std::optional<TableReader> child(std::string_view key);
    /// The node under a key, for readers with a grammar of their own; marks the key as known.
    const toml::node* node(std::string_view key);
    bool has(std::string_view key) const { return table_.contains(key); }
    /// Number of lengths a value holds, by its shape alone; 0 when the key is absent or no point.
    std::size_t point_size(std::string_view key) const;

    /// Keys that are known but do nothing here: `why` says where they belong.
    void misplaced(std::initializer_list<const char*> keys, std::string_view why);
    /// Reports every unknown key. Call it last.
    void finish();

    /// Reports an error in a key's value, at that value.
    void error(std::string_view key, std::string what, std::string help = {});
    void warn(std::string_view key, std::string what, std::string help = {});
    /// "tank.length", or `flow of pump "left"`.
    std::string label(std::string_view key) const;
    const std::string& name() const { return name_; }
    Place place() const { return place_of(table_); }
    Place place(std::string_view key) const;
    Diagnostics& diagnostics() { return diagnostics_; }

  private:
    const toml::node* find(std::string_view key, Need need);
    void report_error(const toml::node& at, std::string_view key, const ParseError& parse_error);
    void wrong_type(const toml::node& found, std::string_view key, std::string_view wanted);
    bool in_range(const toml::node& at, std::string_view key, double value, Range range,
                  std::string_view unit);
    std::optional<double> quantity_in(const toml::node& found, std::string_view key,
                                      const Quantity& kind, Range range);
    std::optional<double> number_in(const toml::node& found, std::string_view key, Range range,
                                    std::string_view unit);
    std::vector<double> lengths_in(const toml::node& found, std::string_view key, std::size_t count,
                                   const Quantity& kind);
    int choice_at(std::string_view key, const std::vector<std::string>& words, Need need);

    const toml::table& table_;
    std::string name_;
    Diagnostics& diagnostics_;
    std::vector<std::string> known_;
};

/// A TOML value in the words of a message: "the number 5", "the text \"x\"", "a table".
std::string describe(const toml::node& node);

/// A number as people write it: at most seven digits.
std::string format_number(double value);

}  // namespace bedshade
