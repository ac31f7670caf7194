// Makes a run with its sinks and a progress bar.
#pragma once

#include "sim/report/report.h"
#include "sim/trajectory/trajectory_writer.h"
#include "sim/verdict/run_record.h"

#include "tools/bedshade/arguments.h"

namespace bedshade {

struct Outcome {
    ForecastSummary summary;
    bool finished = false;  ///< not interrupted
};

/// Adds flags and events of a run to its trajectory.
void store(const RunRecord& record, TrajectoryWriter& trajectory);

/// Runs to the horizon, or until interrupted. Snapshots go into the trajectory, if there is one,
/// and flags and events at the end, however that came; finishing it is the caller's.
Outcome run_single(const Layout& layout, double output_scale, Forecast& forecast,
                   const Arguments& arguments, TrajectoryWriter* trajectory);

}  // namespace bedshade
