// The layout of a trajectory, and its snapshots by month.
#pragma once

#include <memory>

#include "sim/run/checkpoint.h"
#include "sim/trajectory/trajectory.h"

namespace bedshade {

/// Reads the layout kept in a trajectory, with its horizon set to the months that the file holds.
/// Throws TrajectoryError when that layout cannot be read, when it is not about the file's
/// colonies, or when a flag names something that is not in it: flags can then be told in words.
Layout layout_of(const Trajectory& run);

/// What that run continued from; null where it began on day 0.
std::shared_ptr<const Checkpoint> checkpoint_of(const Trajectory& run);

/// The central member's frame nearest to the end of a month (0: as set up). Throws
/// std::out_of_range when the run does not reach that month, or goes on from a later one.
int snapshot_at_month(const Trajectory& run, int month);

/// Every month that the central member reaches, from 0 or the one it continues from.
std::vector<int> months_of(const Trajectory& run);

}  // namespace bedshade
