// A trajectory's season run again from what the file holds, up to a day on which it can go on.
//
// A trajectory keeps what there is to see of each day, in single precision; what the season goes by
// is more than that.
#pragma once

#include <optional>

#include "model/base/parallel.h"
#include "model/reef/so_far.h"

#include "sim/trajectory/trajectory.h"
#include "sim/verdict/run_record.h"

namespace bedshade {

/// The last day of a season on which a whole step ends, no later than the end of a month. Such days
/// are the same for every horizon.
double last_step_end_d(const Season& season, int month);

/// How the central member stood at the beginning of that day, before what is planned for it.
/// `layout` is the run's own. Nothing where `go_on` stopped it. Throws TrajectoryError where this
/// program comes to another season than the file tells of.
std::optional<SeasonSoFar> rerun_until(double day_d, const Trajectory& run, const Layout& layout,
                                       const ParallelFor& parallel, const GoOn& go_on);

}  // namespace bedshade
