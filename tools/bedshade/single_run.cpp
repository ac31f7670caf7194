#include "tools/bedshade/single_run.h"

#include <algorithm>
#include <fmt/format.h>
#include <iterator>

#include "sim/verdict/event_log.h"

#include "tools/bedshade/interrupt.h"
#include "tools/bedshade/terminal.h"

namespace bedshade {

void store(const RunRecord& record, TrajectoryWriter& trajectory) {
    for (const Flag& flag : record.flags) trajectory.add(flag);
    for (const EventRecord& event : record.events) trajectory.add(event);
}

Outcome run_single(const Layout& layout, double output_scale, Forecast& forecast,
                   const Arguments& arguments, TrajectoryWriter* trajectory) {
    Outcome outcome;
    outcome.summary.output_scale = output_scale;
    SummaryKeeper keeper(outcome.summary);
    std::vector<SnapshotSink*> sinks = {&keeper};
    if (trajectory != nullptr) sinks.push_back(trajectory);
    ProgressBar bar("forecast", arguments.quiet());
    const int months = layout.season.months;
    const auto go_on = [&](double done) {
        bar.show(done, fmt::format("month {} of {}", 1 + static_cast<int>(done * months), months));
        return !interrupted();
    };
    const RunRecord record = record_run(layout, forecast, 0, go_on, sinks);
    if (trajectory != nullptr) store(record, *trajectory);
    outcome.finished = record.finished;
    outcome.summary.flags = record.flags;
    std::copy_if(record.events.begin(), record.events.end(),
                 std::back_inserter(outcome.summary.applied_actions), is_action_event);
    std::copy_if(record.events.begin(), record.events.end(),
                 std::back_inserter(outcome.summary.fusions), is_fusion);
    return outcome;
}

}  // namespace bedshade
