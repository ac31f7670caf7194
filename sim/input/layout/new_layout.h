// A layout to start from.
#pragma once

#include <string>

namespace bedshade {

/// The text of a commented layout for a tank of this size, which reads without errors and runs:
/// lamps over its length, two pumps, a rock, corals on sand and rock. Inner length and width 0.05
/// to 20 m, water depth 0.05 to 5 m.
std::string new_layout_text(double length_m, double width_m, double water_depth_m);

}  // namespace bedshade
