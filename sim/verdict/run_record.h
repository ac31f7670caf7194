// A season run once, and what is told of it: its flags and its events.
#pragma once

#include <functional>
#include <vector>

#include "sim/base/flag.h"
#include "sim/run/event.h"
#include "sim/run/forecast.h"

namespace bedshade {

/// Asked once a step with the share of the season done; no stops it.
using GoOn = std::function<bool(double)>;

struct RunRecord {
    bool finished = false;  ///< not stopped before the horizon; all else is of the days it had
    std::vector<Flag> flags;
    std::vector<EventRecord> events;
};

/// Runs a forecast to its horizon past whatever watches it. `member` is written into flags and
/// events; `also` take every frame too.
RunRecord record_run(const Layout& layout, Forecast& forecast, int member, const GoOn& go_on,
                     const std::vector<SnapshotSink*>& also = {});

}  // namespace bedshade
