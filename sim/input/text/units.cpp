#include "sim/input/text/units.h"

#include <algorithm>
#include <array>
#include <cctype>
#include <charconv>
#include <cmath>
#include <fmt/format.h>
#include <memory>
#include <mutex>
#include <optional>
#include <stdexcept>
#include <udunits2.h>

#include "sim/base/text.h"

namespace bedshade {
namespace {

constexpr std::size_t kLongestUnit = 40;
constexpr std::size_t kMostNumbers = 24;  // an outline's

struct UnitDeleter {
    void operator()(ut_unit* unit) const { ut_free(unit); }
    void operator()(cv_converter* converter) const { cv_free(converter); }
    void operator()(ut_system* system) const { ut_free_system(system); }
};
template <class T>
using Owned = std::unique_ptr<T, UnitDeleter>;

std::mutex& units_lock() {
    static std::mutex lock;
    return lock;
}

/// The unit table of the machine; the lock must be held.
ut_system* unit_system() {
    ut_set_error_message_handler(ut_ignore);
    static const Owned<ut_system> system(ut_read_xml(nullptr));
    if (!system) throw std::runtime_error("the table of units (udunits2.xml) cannot be read");
    return system.get();
}

/// Unit names that udunits2 does not know, or that mean something else there.
struct Hint {
    const char* unit;
    const char* problem;
    const char* help;
};
constexpr std::array kHints = {
    Hint{"gal", "is the galileo, a unit of acceleration", "write \"gallon\""},
    Hint{"gal/h", "is the galileo, a unit of acceleration", "write \"gallon/h\""},
    Hint{"gal/hr", "is the galileo, a unit of acceleration", "write \"gallon/h\""},
    Hint{"gal/hour", "is the galileo, a unit of acceleration", "write \"gallon/h\""},
    Hint{"\"", "is the second of arc, an angle", "write \"in\" for inches"},
    Hint{"''", "is the second of arc, an angle", "write \"in\" for inches"},
    Hint{"'", "is the minute of arc, an angle", "write \"ft\" for feet"},
    Hint{"gph", "is not a unit this program knows", "write \"gallon/h\""},
    Hint{"GPH", "is not a unit this program knows", "write \"gallon/h\""},
    Hint{"gpm", "is not a unit this program knows", "write \"gallon/min\""},
    Hint{"lph", "is not a unit this program knows", "write \"L/h\""},
    Hint{"LPH", "is not a unit this program knows", "write \"L/h\""},
    Hint{"month", "has no fixed length", "write the duration in days or weeks"},
    Hint{"months", "has no fixed length", "write the duration in days or weeks"},
    Hint{"year", "has no fixed length", "write the duration in days or weeks"},
    Hint{"years", "has no fixed length", "write the duration in days or weeks"},
    Hint{"ppt", "is one part in a million million", "write \"g/L\" or \"mg/L\""},
    Hint{"F", "is the farad", "write \"degF\""},
    Hint{"C", "is the coulomb", "write \"degC\""},
};

/// Angles are dimensionless to udunits2, so that it would take "5 %" for one.
constexpr std::array kAngleNames = {"deg", "degree", "degrees", "°", "rad", "radian", "radians"};

bool is_space(char c) { return c == ' ' || c == '\t'; }
bool is_digit(char c) { return c >= '0' && c <= '9'; }

std::string_view trimmed(std::string_view text) {
    while (!text.empty() && is_space(text.front())) text.remove_prefix(1);
    while (!text.empty() && is_space(text.back())) text.remove_suffix(1);
    return text;
}

/// Takes a number off the front of the text, or nothing when it does not start with one.
std::optional<double> take_number(std::string_view& text) {
    std::string_view digits = text;
    if (digits.size() > 1 && digits[0] == '+' && digits[1] != '-') digits.remove_prefix(1);
    double value = 0.0;
    const auto [end, error] = std::from_chars(digits.data(), digits.data() + digits.size(), value);
    if (end == digits.data()) return std::nullopt;
    if (error != std::errc{}) value = std::nan("");
    text.remove_prefix(static_cast<std::size_t>(end - text.data()));
    return value;
}

/// Whether a second number follows among the unit's words ("2 ft 3 in").
bool holds_a_number(std::string_view unit) {
    for (std::size_t i = 0; i < unit.size(); ++i) {
        const bool starts_word = i == 0 || is_space(unit[i - 1]);
        if (starts_word && is_digit(unit[i])) return true;
    }
    return false;
}

std::string usual(const Quantity& kind) {
    return fmt::format("{} is written such as \"5 {}\" or \"5 {}\"", kind.noun, kind.shown,
                       kind.other);
}

std::optional<ParseError> known_trap(std::string_view unit) {
    for (const auto& hint : kHints)
        if (unit == hint.unit)
            return ParseError{fmt::format("has the unit `{}`, which {}", unit, hint.problem),
                              hint.help};
    return std::nullopt;
}

std::optional<ParseError> misshapen(std::string_view unit, const Quantity& kind) {
    if (unit.empty()) return ParseError{"has no unit", usual(kind)};
    if (unit.front() == ',')
        return ParseError{"has a comma in its number",
                          "decimals are written with a point: \"2.5\""};
    if (holds_a_number(unit))
        return ParseError{"has more than one number and unit",
                          fmt::format("write one number and one unit; {}", usual(kind))};
    if (unit.size() > kLongestUnit || unit.find_first_of("()@") != std::string_view::npos)
        return ParseError{fmt::format("has the unit `{}`, which is not one this program knows",
                                      escape_control(unit.substr(0, kLongestUnit))),
                          usual(kind)};
    return known_trap(unit);
}

Owned<ut_unit> parsed(std::string_view unit) {
    if (unit == "deg") unit = "degree";  // udunits2 has the long name only
    return Owned<ut_unit>(ut_parse(unit_system(), std::string(unit).c_str(), UT_UTF8));
}

ParseError unknown_unit(std::string_view unit, const Quantity& kind) {
    std::string lower(unit);
    std::transform(lower.begin(), lower.end(), lower.begin(),
                   [](unsigned char c) { return static_cast<char>(std::tolower(c)); });
    const std::string what =
        fmt::format("has the unit `{}`, which is not one this program knows", escape_control(unit));
    if (lower != unit && parsed(lower)) return {what, fmt::format("did you mean `{}`?", lower)};
    return {what, usual(kind)};
}

ParseError wrong_dimension(std::string_view unit, const Quantity& kind) {
    return {fmt::format("has the unit `{}`, but must be {}", escape_control(unit), kind.noun),
            usual(kind)};
}

bool is_angle_name(std::string_view unit) {
    return std::find(kAngleNames.begin(), kAngleNames.end(), unit) != kAngleNames.end();
}

/// A converter from the unit to the one the kind is kept in. udunits2 also converts between
/// reciprocals (s to Hz), which is no conversion here: it shows by sending 0 to infinity.
std::variant<Owned<cv_converter>, ParseError> converter(std::string_view unit,
                                                        const Quantity& kind) {
    if (auto parse_error = misshapen(unit, kind)) return *parse_error;
    const Owned<ut_unit> from = parsed(unit);
    if (!from) return unknown_unit(unit, kind);
    const Owned<ut_unit> to = parsed(kind.unit);
    const bool angle = std::string_view(kind.unit) == kAngle.unit;
    if (!ut_are_convertible(from.get(), to.get()) || (angle && !is_angle_name(unit)))
        return wrong_dimension(unit, kind);
    Owned<cv_converter> found(ut_get_converter(from.get(), to.get()));
    if (!found || !std::isfinite(cv_convert_double(found.get(), 0.0)))
        return wrong_dimension(unit, kind);
    return found;
}

std::vector<double> take_numbers(std::string_view& text) {
    std::vector<double> numbers;
    text = trimmed(text);
    while (numbers.size() < kMostNumbers) {
        const auto number = take_number(text);
        if (!number) break;
        numbers.push_back(*number);
        text = trimmed(text);
    }
    return numbers;
}

}  // namespace

std::variant<std::vector<double>, ParseError> read_quantities(std::string_view text,
                                                              const Quantity& kind) {
    std::string_view unit = text;
    auto numbers = take_numbers(unit);
    if (numbers.empty()) return ParseError{"does not begin with a number", usual(kind)};
    const std::scoped_lock lock(units_lock());
    auto conversion = converter(unit, kind);
    if (const auto* parse_error = std::get_if<ParseError>(&conversion)) return *parse_error;
    for (double& number : numbers) {
        number = cv_convert_double(std::get<0>(conversion).get(), number);
        if (!std::isfinite(number)) return ParseError{"is not a finite number", usual(kind)};
    }
    return numbers;
}

std::variant<double, ParseError> read_quantity(std::string_view text, const Quantity& kind) {
    auto found = read_quantities(text, kind);
    if (const auto* parse_error = std::get_if<ParseError>(&found)) return *parse_error;
    const auto& numbers = std::get<0>(found);
    if (numbers.size() == 1) return numbers.front();
    return ParseError{fmt::format("has {} numbers instead of one", numbers.size()), usual(kind)};
}

}  // namespace bedshade
