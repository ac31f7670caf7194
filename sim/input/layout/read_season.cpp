#include <fmt/format.h>

#include "sim/input/layout/sections.h"

namespace bedshade {

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
                  "raise months, which counts from the start of the run");
    read_memory(*in, season.memory);
    in->quantity("step", season.step_d, kDays, {0.25, 31.0});
    in->flag("use_readings", season.use_readings);
    in->finish();
}

}  // namespace bedshade
