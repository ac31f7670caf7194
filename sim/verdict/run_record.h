// The record of one run: its flags and its events.
#pragma once

#include <functional>
#include <vector>

#include "sim/base/flag.h"
#include "sim/run/event.h"
#include "sim/run/forecast.h"

namespace bedshade {

/// Called once a step with the fraction done; false stops the run.
using GoOn = std::function<bool(double)>;

struct RunRecord {
    bool finished = false;  ///< not stopped before the horizon; all else is of the days it had
    std::vector<Flag> flags;
    std::vector<EventRecord> events;
};

/// Runs a forecast to its horizon and records flags and events. `member` is written into both; the
/// sinks in `also` get every snapshot too.
RunRecord record_run(const Layout& layout, Forecast& forecast, int member, const GoOn& go_on,
                     const std::vector<SnapshotSink*>& also = {});

}  // namespace bedshade
