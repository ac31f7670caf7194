#include "tools/bedshade/run_options.h"

#include <fmt/format.h>

#include "tools/bedshade/option_values.h"

namespace bedshade {

void add_run_options(po::options_description& options) {
    options.add_options()("months", po::value<int>()->value_name("M"),
                          "horizon (default: the layout's)");
    add_seed_option(options);
}

void add_seed_option(po::options_description& options) {
    constexpr Count kDefaultSeed{1};
    options.add_options()("seed", po::value<Count>()->default_value(kDefaultSeed)->value_name("S"),
                          "seed of the random numbers (when fish stir the sand)");
}

void add_members_option(po::options_description& options) {
    options.add_options()("members", po::value<int>()->default_value(1)->value_name("N"),
                          "ensemble members: runs with growth, light and sand sampled from their "
                          "uncertainty; the first is the best estimate");
}

int members_of(const Arguments& arguments) {
    return whole_within(arguments, "members", 1, kMostMembers);
}

void set_months(Layout& layout, const Arguments& arguments) {
    const auto months = maybe_whole_within(arguments, "months", 1, kMostMonths);
    if (!months) return;
    if (*months * kDaysPerMonth <= layout.season.from_d)
        throw UsageError(
            fmt::format("--months is {}, counted from the start of the run, but the layout "
                        "continues from day {:g}",
                        *months, layout.season.from_d));
    layout.season.months = *months;
}

std::uint64_t seed_of(const Arguments& arguments, const Checkpoint* checkpoint) {
    if (checkpoint != nullptr && arguments.defaulted("seed")) return checkpoint->seed;
    return arguments.value<Count>("seed").value;
}

}  // namespace bedshade
