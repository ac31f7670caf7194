#include "tools/bedshade/advice_options.h"

#include <fmt/format.h>

#include "sim/input/units.h"
#include "sim/output/output_path.h"

namespace bedshade {

int whole_within(const Arguments& arguments, const char* option, int least, int most) {
    const int value = arguments.value<int>(option);
    if (value < least || value > most)
        throw UsageError(fmt::format("--{} is {}; allowed: {} to {}", option, value, least, most));
    return value;
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
    if (const auto* complaint = std::get_if<Complaint>(&read))
        throw UsageError(fmt::format("--{} {}; {}", option, complaint->what, complaint->help));
    const double value_m = std::get<double>(read);
    if (value_m < least_m || value_m > most_m)
        throw UsageError(fmt::format("--{} is {:g} cm; allowed: {:g} to {:g} cm", option,
                                     100.0 * value_m, 100.0 * least_m, 100.0 * most_m));
    return value_m;
}

void add_advice_options(po::options_description& options, int forecasts) {
    options.add_options()("forecasts", po::value<int>()->default_value(forecasts)->value_name("N"),
                          "at most so many forecasts' work")(
        "out", po::value<std::string>()->value_name("CHANGE.toml"),
        "write the change there, to lay over the layout")("force", "replace a file that is there");
}

std::string checked_out(const Arguments& arguments) {
    const auto out = arguments.maybe<std::string>("out");
    if (!out) return "";
    check_output(*out, arguments.has("force"));
    return *out;
}

}  // namespace bedshade
