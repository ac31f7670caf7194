// Directions from which light comes down: under a flat surface all that has not met a wall or the
// bed arrives within Snell's window, whatever the lamps above.
#pragma once

#include <vector>

#include "model/base/geometry.h"

namespace bedshade {

/// `count` unit vectors, each standing for the same light on a level face, if light came from all
/// of the window alike. A stand-in for the lamps' own directions, for shares only.
std::vector<Vec3> window_directions(int count);

}  // namespace bedshade
