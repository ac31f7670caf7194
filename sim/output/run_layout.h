// The layout that a trajectory was made from.
#pragma once

#include "sim/output/trajectory.h"

namespace bedshade {

/// Reads the layout kept in a trajectory, with its horizon set to the months that the file holds.
/// Throws TrajectoryError when that layout cannot be read, when it is not about the file's
/// colonies, or when a flag names something that is not in it: flags can then be told in words.
Layout layout_of(const Trajectory& run);

}  // namespace bedshade
