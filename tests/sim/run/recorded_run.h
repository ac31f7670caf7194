// Whole runs, recorded snapshot by snapshot or as the events of their actions.
#pragma once

#include <string>
#include <vector>

#include "sim/base/pool.h"
#include "sim/run/forecast.h"
#include "sim/verdict/event_log.h"

namespace bedshade::test {

struct Kept final : SnapshotSink {
    std::vector<Snapshot> snapshots;
    void take(const Snapshot& snapshot) override { snapshots.push_back(snapshot); }
};

/// Every snapshot of a run.
inline std::vector<Snapshot> season_of(const Layout& layout,
                                       const ParallelFor& parallel = run_serially) {
    Forecast forecast(layout, {}, parallel);
    Kept kept;
    forecast.run({&kept}, [](double) { return true; });
    return kept.snapshots;
}

/// What the event log of a run says of each action.
inline std::vector<std::string> deeds_told(const Layout& layout) {
    Forecast forecast(layout, {}, run_serially);
    EventLog event_log(layout);
    forecast.run({&event_log}, [](double) { return true; });
    std::vector<std::string> told;
    for (const EventRecord& event : event_log.events())
        if (is_action_event(event)) told.push_back(event.text);
    return told;
}

}  // namespace bedshade::test
