// A trajectory's run repeated from what the file holds, up to a day on which it can continue.
//
// A trajectory stores what is observed on each day, in single precision; a checkpoint needs more.
#pragma once

#include <optional>

#include "model/base/parallel.h"

#include "sim/run/checkpoint.h"
#include "sim/trajectory/trajectory.h"
#include "sim/verdict/run_record.h"

namespace bedshade {

/// The last day of a run on which a whole step ends, no later than the end of a month. Such days
/// are the same for every horizon.
double last_step_end_d(const Season& season, int month);

/// The central member's checkpoint at the beginning of that day, before its actions. `layout` is
/// the run's own. Nothing where `go_on` stopped it. Throws TrajectoryError where this program comes
/// to another run than the file holds.
std::optional<Checkpoint> rerun_until(double day_d, const Trajectory& run, const Layout& layout,
                                      const ParallelFor& parallel, const GoOn& go_on);

}  // namespace bedshade
