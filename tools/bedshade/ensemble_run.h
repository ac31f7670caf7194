// The other members of a forecast: the same season again, within what is known of its figures.
#pragma once

#include <string>
#include <vector>

#include "model/base/parallel.h"

#include "sim/output/trajectory_writer.h"
#include "sim/season/forecast.h"
#include "sim/verdict/ensemble.h"

#include "tools/bedshade/arguments.h"

namespace bedshade {

struct EnsembleOutcome {
    std::vector<FlagSpread> spreads;
    std::vector<std::string> quantities;      ///< what was drawn, in words
    std::vector<std::vector<double>> scores;  ///< [member][quantity]
    bool finished = false;                    ///< not interrupted
};

/// Runs members 1 to `members` - 1, one after another, each on the whole pool: one member's state
/// is in memory at a time, and threads cannot matter. `central` are member 0's flags. Frames and
/// flags go into the trajectory, if there is one; it is not finished here.
EnsembleOutcome run_members(const Layout& layout, const ForecastOptions& options, int members,
                            const std::vector<Flag>& central, const ParallelFor& parallel,
                            const Arguments& arguments, TrajectoryWriter* trajectory);

}  // namespace bedshade
