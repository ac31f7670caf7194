// A run, and what is reported of it: its flags and its events.
#pragma once

#include <functional>
#include <vector>

#include "sim/run/event.h"
#include "sim/run/forecast.h"
#include "sim/verdict/flag.h"

namespace bedshade {

/// Asked once a step with the share of the run done; no stops it.
using GoOn = std::function<bool(double)>;

struct RunRecord {
    bool finished = false;  ///< not stopped before the horizon; all else is of the days it had
    std::vector<Flag> flags;
    std::vector<EventRecord> events;
};

/// Runs a forecast to its horizon past whatever watches it. `member` is written into flags and
/// events; `also` take every snapshot too.
RunRecord record_run(const Layout& layout, Forecast& forecast, int member, const GoOn& go_on,
                     const std::vector<SnapshotSink*>& also = {});

}  // namespace bedshade
