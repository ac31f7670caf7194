#include "tools/bedshade/season_run.h"

#include <algorithm>
#include <fmt/format.h>
#include <iterator>

#include "sim/verdict/chronicle.h"
#include "sim/verdict/watch.h"

#include "tools/bedshade/interrupt.h"
#include "tools/bedshade/terminal.h"

namespace bedshade {

Outcome run_season(const Layout& layout, double output_scale, Forecast& forecast,
                   const Arguments& arguments, TrajectoryWriter* trajectory) {
    Outcome outcome;
    outcome.summary.output_scale = output_scale;
    Watch watch(layout);
    Chronicle chronicle(layout);
    SummaryKeeper keeper(outcome.summary);
    std::vector<FrameSink*> sinks = {&watch, &chronicle, &keeper};
    if (trajectory != nullptr) sinks.push_back(trajectory);
    ProgressBar bar("forecast", arguments.quiet());
    const int months = layout.season.months;
    outcome.finished = forecast.run(sinks, [&](double done) {
        bar.show(done, fmt::format("month {} of {}", 1 + static_cast<int>(done * months), months));
        return !interrupted();
    });
    outcome.summary.flags = watch.flags();
    std::copy_if(chronicle.events().begin(), chronicle.events().end(),
                 std::back_inserter(outcome.summary.deeds), is_deed);
    if (trajectory != nullptr) {
        for (const Flag& flag : outcome.summary.flags) trajectory->add(flag);
        for (const EventRecord& event : chronicle.events()) trajectory->add(event);
    }
    return outcome;
}

}  // namespace bedshade
