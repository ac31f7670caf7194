#include "sim/input/text/table_reader.h"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>
#include <utility>

#include "sim/base/calendar.h"
#include "sim/base/text.h"
#include "sim/input/text/time_of_day.h"

namespace bedshade {
namespace {

constexpr std::size_t kLongestText = 200;
constexpr std::size_t kLongestQuoted = 60;
/// Points farther off than this are slips of the unit; places are checked against the tank later.
constexpr Range kFarthest{-1e4, 1e4};

std::string quoted(std::string_view text) {
    if (text.size() <= kLongestQuoted) return fmt::format("\"{}\"", escape_control(text));
    return fmt::format("\"{}…\"", escape_control(text.substr(
                                      0, valid_utf8_length(text.substr(0, kLongestQuoted)))));
}

bool holds_spaces(std::string_view name) { return name.find(' ') != std::string_view::npos; }

std::string with_unit(std::string_view unit) {
    return unit.empty() ? std::string() : fmt::format(" {}", unit);
}

std::string list_of(const std::vector<std::string>& words) {
    std::string text;
    for (std::size_t i = 0; i < words.size(); ++i)
        text += fmt::format("{}{}", i == 0 ? "" : i + 1 == words.size() ? " or " : ", ", words[i]);
    return text;
}

bool within(double value, Range range) {
    // "5 cm" turned into metres and back must not fall below 5.
    constexpr double kRounding = 5e-10;
    const double slack = kRounding * std::max(std::abs(range.low), std::abs(range.high));
    return value >= range.low - slack && value <= range.high + slack;
}

std::optional<CalendarDay> day_of(const toml::date& date) {
    return calendar_day(date.year, date.month, date.day);
}

std::optional<double> hours_of(const toml::node& node) {
    if (const auto* time = node.as_time())
        return time->get().hour + time->get().minute / 60.0 + time->get().second / 3600.0;
    if (const auto text = node.value<std::string_view>()) return hour_of_day(*text);
    return std::nullopt;
}

}  // namespace

std::string format_number(double value) { return fmt::format("{:.7g}", value); }

std::string describe(const toml::node& node) {
    if (const auto text = node.value<std::string_view>())
        return fmt::format("the text {}", quoted(*text));
    if (node.is_number()) return fmt::format("the number {}", format_number(*node.value<double>()));
    if (const auto* flag = node.as_boolean()) return flag->get() ? "true" : "false";
    if (node.is_table()) return "a table";
    if (node.is_array()) return "a list";
    return node.is_time() ? "a time of day" : "a date";
}

TableReader::TableReader(const toml::table& table, std::string name, Diagnostics& diagnostics)
    : table_(table), name_(std::move(name)), diagnostics_(diagnostics) {}

std::string TableReader::label(std::string_view key) const {
    if (name_.empty()) return std::string(key);
    return holds_spaces(name_) ? fmt::format("{} of {}", key, name_)
                               : fmt::format("{}.{}", name_, key);
}

Place TableReader::place(std::string_view key) const {
    const auto* found = table_.get(key);
    return found ? place_of(*found) : place();
}

void TableReader::error(std::string_view key, std::string what, std::string help) {
    diagnostics_.error(place(key), std::move(what), std::move(help));
}

void TableReader::warn(std::string_view key, std::string what, std::string help) {
    diagnostics_.warn(place(key), std::move(what), std::move(help));
}

const toml::node* TableReader::node(std::string_view key) {
    known_.emplace_back(key);
    return table_.get(key);
}

const toml::node* TableReader::find(std::string_view key, Need need) {
    const auto* found = node(key);
    if (!found && need == Need::required)
        diagnostics_.error(place(), fmt::format("{} is missing", label(key)));
    return found;
}

void TableReader::report_error(const toml::node& at, std::string_view key,
                               const ParseError& parse_error) {
    diagnostics_.error(place_of(at), fmt::format("{} {}", label(key), parse_error.what),
                       parse_error.help);
}

void TableReader::wrong_type(const toml::node& found, std::string_view key,
                             std::string_view wanted) {
    diagnostics_.error(place_of(found), fmt::format("{} is {}, but must be {}", label(key),
                                                    describe(found), wanted));
}

bool TableReader::in_range(const toml::node& at, std::string_view key, double value, Range range,
                           std::string_view unit) {
    if (std::isfinite(value) && within(value, range)) return true;
    if (!std::isfinite(value))
        report_error(at, key, {"is not a finite number", {}});
    else
        report_error(at, key,
                     {fmt::format("is {}{}, but must be from {} to {}{}", format_number(value),
                                  with_unit(unit), format_number(range.low),
                                  format_number(range.high), with_unit(unit)),
                      range.help});
    return false;
}

std::optional<double> TableReader::quantity_in(const toml::node& found, std::string_view key,
                                               const Quantity& kind, Range range) {
    if (found.is_number()) {
        const std::string n = format_number(*found.value<double>());
        report_error(found, key,
                     {fmt::format("is the number {} without a unit", n),
                      fmt::format("write {} in quotes, such as \"{} {}\" or \"{} {}\"", kind.noun,
                                  n, kind.shown, n, kind.other)});
        return std::nullopt;
    }
    const auto text = found.value<std::string_view>();
    if (!text) {
        wrong_type(found, key, fmt::format("{} such as \"5 {}\"", kind.noun, kind.shown));
        return std::nullopt;
    }
    const auto read = read_quantity(*text, kind);
    if (const auto* parse_error = std::get_if<ParseError>(&read)) {
        report_error(found, key, *parse_error);
        return std::nullopt;
    }
    const double value = std::get<0>(read);
    const bool fits = in_range(found, key, value / kind.unit_per_shown, range, kind.shown);
    return fits ? std::optional(value) : std::nullopt;
}

std::optional<double> TableReader::number_in(const toml::node& found, std::string_view key,
                                             Range range, std::string_view unit) {
    if (!found.is_number()) {
        wrong_type(found, key,
                   unit.empty() ? std::string("a number without quotes")
                                : fmt::format("a number without quotes, in {}", unit));
        return std::nullopt;
    }
    const double value = *found.value<double>();
    return in_range(found, key, value, range, unit) ? std::optional(value) : std::nullopt;
}

bool TableReader::quantity(std::string_view key, double& into, const Quantity& kind, Range range,
                           Need need) {
    const auto* found = find(key, need);
    const auto value = found ? quantity_in(*found, key, kind, range) : std::nullopt;
    into = value.value_or(into);
    return value.has_value();
}

bool TableReader::number(std::string_view key, double& into, Range range, std::string_view unit,
                         Need need) {
    const auto* found = find(key, need);
    const auto value = found ? number_in(*found, key, range, unit) : std::nullopt;
    into = value.value_or(into);
    return value.has_value();
}

bool TableReader::number_or_quantity(std::string_view key, double& into, const Quantity& kind,
                                     Range range) {
    const auto* found = table_.get(key);
    return found && found->is_number() ? number(key, into, range, kind.shown)
                                       : quantity(key, into, kind, range);
}

bool TableReader::whole_number(std::string_view key, int& into, int low, int high, Need need) {
    const auto* found = find(key, need);
    if (!found) return false;
    const auto value = number_in(*found, key, {double(low), double(high)}, {});
    if (!value) return false;
    if (*value != std::floor(*value)) {
        wrong_type(*found, key, "a whole number");
        return false;
    }
    into = static_cast<int>(*value);
    return true;
}

bool TableReader::text(std::string_view key, std::string& into, Need need) {
    std::string value;
    if (!long_text(key, value, need)) return false;
    if (value.size() > kLongestText) {
        report_error(*table_.get(key), key,
                     {fmt::format("is longer than {} bytes", kLongestText), "shorten it"});
        return false;
    }
    into = std::move(value);
    return true;
}

bool TableReader::long_text(std::string_view key, std::string& into, Need need) {
    const auto* found = find(key, need);
    if (!found) return false;
    auto value = found->value<std::string>();
    if (!value) wrong_type(*found, key, "text in quotes");
    if (!value) return false;
    into = std::move(*value);
    return true;
}

bool TableReader::flag(std::string_view key, bool& into) {
    const auto* found = find(key, Need::optional);
    if (!found) return false;
    const auto* value = found->as_boolean();
    if (!value) wrong_type(*found, key, "true or false");
    if (value) into = value->get();
    return value != nullptr;
}

bool TableReader::date(std::string_view key, CalendarDay& into, Need need) {
    const auto* found = find(key, need);
    if (!found) return false;
    std::optional<CalendarDay> day;
    if (const auto* date = found->as_date()) day = day_of(date->get());
    if (!day && found->is_string()) {
        day = parse_calendar_day(*found->value<std::string_view>());
        if (!day)
            report_error(*found, key,
                         {fmt::format("is {}, which is not a date", describe(*found)),
                          "dates are written 2027-01-31, without quotes"});
    } else if (!day) {
        wrong_type(*found, key, "a date such as 2027-01-31");
    }
    if (day) into = *day;
    return day.has_value();
}

bool TableReader::hour(std::string_view key, double& into) {
    const auto* found = find(key, Need::optional);
    if (!found) return false;
    const auto hours = hours_of(*found);
    if (!hours) wrong_type(*found, key, "a time of day such as \"10:00\"");
    into = hours.value_or(into);
    return hours.has_value();
}

std::vector<double> TableReader::lengths_in(const toml::node& found, std::string_view key,
                                            std::size_t count, const Quantity& kind) {
    std::vector<double> values;
    if (const auto* list = found.as_array()) {
        for (const auto& item : *list) {
            const auto value = quantity_in(item, key, kind, kFarthest);
            if (!value) return {};
            values.push_back(*value);
        }
    } else if (const auto text = found.value<std::string_view>()) {
        auto read = read_quantities(*text, kind);
        if (const auto* parse_error = std::get_if<ParseError>(&read)) {
            report_error(found, key, *parse_error);
            return {};
        }
        values = std::get<0>(read);
    } else {
        wrong_type(found, key,
                   count == 3 ? "a point such as \"30 25 4 cm\"" : "lengths such as \"30 25 cm\"");
        return {};
    }
    if (values.size() == count) return values;
    report_error(found, key,
                 {fmt::format("has {} number{} instead of {}", values.size(),
                              values.size() == 1 ? "" : "s", count),
                  {}});
    return {};
}

bool TableReader::lengths(std::string_view key, std::vector<double>& into_m, std::size_t count,
                          Range range, Need need, const Quantity& kind) {
    const auto* found = find(key, need);
    if (!found) return false;
    const auto values = lengths_in(*found, key, count, kind);
    if (values.empty()) return false;
    for (const double value : values)
        if (!in_range(*found, key, value / kind.unit_per_shown, range, kind.shown)) return false;
    into_m = values;
    return true;
}

bool TableReader::point(std::string_view key, Vec3& into_m, Need need) {
    std::vector<double> xyz;
    if (!lengths(key, xyz, 3, kFarthest, need)) return false;
    into_m = Vec3(xyz[0], xyz[1], xyz[2]);
    return true;
}

bool TableReader::spot(std::string_view key, Vec2& into_m, Need need) {
    std::vector<double> xy;
    if (!lengths(key, xy, 2, kFarthest, need)) return false;
    into_m = Vec2(xy[0], xy[1]);
    return true;
}

std::size_t TableReader::point_size(std::string_view key) const {
    const auto* found = table_.get(key);
    if (!found) return 0;
    if (const auto* list = found->as_array()) return list->size();
    const auto text = found->value<std::string_view>();
    const auto read = text ? read_quantities(*text, kLength) : ParseError{};
    const auto* values = std::get_if<std::vector<double>>(&read);
    return values ? values->size() : 0;
}

int TableReader::choice_at(std::string_view key, const std::vector<std::string>& words, Need need) {
    const auto* found = find(key, need);
    if (!found) return -1;
    const auto word = found->value<std::string>();
    const auto at = word ? std::find(words.begin(), words.end(), *word) : words.end();
    if (at != words.end()) return static_cast<int>(at - words.begin());
    const std::string near = word ? nearest_name(*word, words) : std::string();
    report_error(*found, key,
                 {fmt::format("is {}, but must be {}", describe(*found), list_of(words)),
                  near.empty() ? near : fmt::format("did you mean \"{}\"?", near)});
    return -1;
}

std::optional<TableReader> TableReader::child(std::string_view key) {
    const auto* found = node(key);
    if (!found) return std::nullopt;
    if (const auto* table = found->as_table()) return TableReader(*table, label(key), diagnostics_);
    if (const auto* list = found->as_array(); list && list->is_array_of_tables())
        report_error(*found, key,
                     {fmt::format("is a list, but only one {} is allowed", key),
                      fmt::format("write [{}] with single brackets", key)});
    else
        wrong_type(*found, key, "a table");
    return std::nullopt;
}

void TableReader::misplaced(std::initializer_list<const char*> keys, std::string_view why) {
    for (const char* key : keys)
        if (node(key))
            error(key, fmt::format("{} is not allowed here", label(key)), std::string(why));
}

void TableReader::finish() {
    std::sort(known_.begin(), known_.end());
    known_.erase(std::unique(known_.begin(), known_.end()), known_.end());
    for (auto&& [key, value] : table_) {
        if (std::binary_search(known_.begin(), known_.end(), key.str())) continue;
        const std::string near =
            diagnostics_.keeps_more_errors() ? nearest_name(key.str(), known_) : "";
        diagnostics_.error(place_of(key),
                           fmt::format("`{}` is not a key of {}", escape_control(key.str()),
                                       name_.empty() ? "a layout" : name_),
                           near.empty() ? fmt::format("allowed: {}", list_of(known_))
                                        : fmt::format("did you mean `{}`?", near));
    }
}

}  // namespace bedshade
