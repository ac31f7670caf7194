// The other members of a forecast: runs with sampled parameters.
#pragma once

#include <string>
#include <vector>

#include "sim/base/pool.h"
#include "sim/run/forecast.h"
#include "sim/trajectory/trajectory_writer.h"
#include "sim/verdict/ensemble.h"

#include "tools/bedshade/arguments.h"

namespace bedshade {

struct EnsembleOutcome {
    Ensemble ensemble;
    bool finished = false;  ///< not interrupted
};

/// Runs members 1 to `members` - 1, each on one thread of the pool, some at a time: their frames
/// are held until it is their turn in the trajectory, so that its bytes do not hang on threads.
/// `central` are member 0's flags. Frames and flags go into the trajectory, if there is one; it is
/// not finished here.
EnsembleOutcome run_members(const Layout& layout, const RunOptions& options, int members,
                            const std::vector<Flag>& central, Pool& pool,
                            const Arguments& arguments, TrajectoryWriter* trajectory);

}  // namespace bedshade
