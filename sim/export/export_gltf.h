// A month of a run as a scene for 3-D programs: glTF 2.0, binary (Khronos 2017, the glTF 2.0
// Specification; ISO/IEC 12113:2022).
#pragma once

#include <string>

#include "sim/trajectory/trajectory.h"

namespace bedshade {

/// One .glb: a node for each colony, rock, and the bed, named as in the layout, in metres. A node
/// above them all turns z up into glTF's y up. The bed is coloured by its light, corals pale as
/// their reserve is spent; their values stand in each node's `extras` with units in the names.
/// Throws std::out_of_range when the run does not reach the month, TrajectoryError.
std::string month_glb(const Trajectory& run, const Layout& layout, int month);

}  // namespace bedshade
