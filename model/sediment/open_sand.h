// Where the bed is bare sand: inside the glass and not under a rock's foot.
#pragma once

#include <vector>

#include "model/base/geometry.h"
#include "model/reef/rock.h"
#include "model/reef/tank.h"

namespace bedshade {

/// Whether a spot of the bed is bare sand. Sand under an overhang is.
bool open_sand(const Vec2& spot_m, const Tank& tank, const std::vector<Rock>& rocks);

}  // namespace bedshade
