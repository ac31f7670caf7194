// A drawing of a month of a run, from above and from the front.
#pragma once

#include <string>

#include "sim/trajectory/trajectory.h"

namespace bedshade {

/// Plan and front elevation of the tank at the end of month `month` (0: as set up) as an SVG
/// document: light on the bed in steps of one scale, rock, lamps and pumps, colonies in their true
/// outlines with a numbered key, and the flags raised until then. Throws std::out_of_range when the
/// run does not reach that month.
std::string picture_svg(const Trajectory& run, int month);

}  // namespace bedshade
