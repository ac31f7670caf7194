// Receptor of sand deposition.
#pragma once

#include "model/base/geometry.h"

namespace bedshade {

/// The live tissue of a colony, or a point of the bed.
struct SandReceptor {
    Vec3 at_m = Vec3::Zero();  ///< centre of the tissue; z is its height above the bed
    double radius_m = 0.0;     ///< of the area over which the sand is averaged; 0: a point
};

}  // namespace bedshade
