// Where the bed is bare sand: inside the glass and not covered by rock.
#pragma once

#include <vector>

#include "model/base/geometry.h"
#include "model/reef/rock.h"
#include "model/reef/tank.h"

namespace bedshade {

/// Whether a point of the bed is bare sand; sand under an overhang counts.
bool open_sand(const Vec2& spot_m, const Tank& tank, const std::vector<Rock>& rocks);

}  // namespace bedshade
