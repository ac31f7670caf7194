#include <fmt/format.h>

#include "sim/input/layout/sections.h"

namespace bedshade {
namespace {

/// TOML has signed whole numbers only: a seed above their range is written as the negative number
/// of the same bits.
void read_seed(TableReader& in, std::uint64_t& seed) {
    const auto* found = in.node("seed");
    if (!found) return;
    if (const auto number = found->value_exact<std::int64_t>())
        seed = static_cast<std::uint64_t>(*number);
    else
        in.error("seed", fmt::format("{} must be a whole number", in.label("seed")));
}

}  // namespace

void read_season(TableReader& top, LayoutBuilder& builder) {
    Season& season = builder.layout.season;
    auto in = top.child("season");
    if (!in) {
        if (!top.has("season"))
            top.diagnostics().error(top.place(), "the [season] section is missing",
                                    "give at least its first day: start = 2027-01-01");
        return;
    }
    in->date("start", season.start, Need::required);
    in->whole_number("months", season.months, 1, 240);
    in->number("from_day", season.from_d, {0.0, 240.0 * kDaysPerMonth}, "d");
    if (season.from_d > 0.0 && season.from_d >= season.months * kDaysPerMonth)
        in->error("from_day",
                  fmt::format("the run continues from day {:g}, but ends on day {:g}",
                              season.from_d, season.months * kDaysPerMonth),
                  "raise months, which counts from the season's start");
    builder.checkpoint.day_d = season.from_d;
    read_seed(*in, builder.checkpoint.seed);
    in->whole_number("member", builder.checkpoint.member, 0, 100000);
    in->quantity("step", season.step_d, kDays, {0.25, 31.0});
    in->flag("use_readings", season.use_readings);
    in->finish();
}

}  // namespace bedshade
