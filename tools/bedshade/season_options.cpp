#include "tools/bedshade/months.h"

#include <fmt/format.h>

namespace bedshade {

void add_months_option(po::options_description& options) {
    options.add_options()("months", po::value<int>()->value_name("M"),
                          "horizon (default: the layout's)");
}

void set_months(Layout& layout, const Arguments& arguments) {
    constexpr int kMostMonths = 240;
    const auto months = arguments.maybe<int>("months");
    if (!months) return;
    if (*months < 1 || *months > kMostMonths)
        throw UsageError(fmt::format("--months is {}; allowed: 1 to {}", *months, kMostMonths));
    layout.season.months = *months;
}

}  // namespace bedshade
