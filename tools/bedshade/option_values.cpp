#include "tools/bedshade/option_values.h"

#include <charconv>
#include <fmt/format.h>
#include <ostream>

#include "sim/input/text/units.h"

namespace bedshade {

void require_given(const Arguments& arguments, std::initializer_list<const char*> options) {
    for (const char* option : options)
        if (!arguments.has(option)) throw UsageError(fmt::format("--{} is missing", option));
}

int whole_within(const Arguments& arguments, const char* option, int least, int most) {
    const int value = arguments.value<int>(option);
    if (value < least || value > most)
        throw UsageError(fmt::format("--{} is {}; allowed: {} to {}", option, value, least, most));
    return value;
}

std::optional<int> maybe_whole_within(const Arguments& arguments, const char* option, int least,
                                      int most) {
    if (!arguments.has(option)) return std::nullopt;
    return whole_within(arguments, option, least, most);
}

double number_within(const Arguments& arguments, const char* option, double least, double most) {
    const double value = arguments.value<double>(option);
    if (!(value >= least && value <= most))
        throw UsageError(
            fmt::format("--{} is {:g}; allowed: {:g} to {:g}", option, value, least, most));
    return value;
}

double length_within(const Arguments& arguments, const char* option, double least_m,
                     double most_m) {
    const auto read = read_quantity(arguments.value<std::string>(option), kLength);
    if (const auto* parse_error = std::get_if<ParseError>(&read))
        throw UsageError(fmt::format("--{} {}; {}", option, parse_error->what, parse_error->help));
    const double value_m = std::get<double>(read);
    if (value_m < least_m || value_m > most_m)
        throw UsageError(fmt::format("--{} is {:g} cm; allowed: {:g} to {:g} cm", option,
                                     100.0 * value_m, 100.0 * least_m, 100.0 * most_m));
    return value_m;
}

std::istream& operator>>(std::istream& in, Count& count) {
    std::string word;
    in >> word;
    const char* const end = word.data() + word.size();
    const auto [stop, error] = std::from_chars(word.data(), end, count.value);
    if (error != std::errc() || stop != end) in.setstate(std::ios::failbit);
    return in;
}

std::ostream& operator<<(std::ostream& out, const Count& count) { return out << count.value; }

}  // namespace bedshade
