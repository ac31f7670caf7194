// How far apart two colonies are, corner by corner of their rims.
#pragma once

#include <array>

#include "model/base/geometry.h"
#include "model/growth/body.h"

namespace bedshade {

/// A colony's rim as contact sees it: points round the outline, each an upright span.
struct Rim {
    std::array<Vec3, kSegments> corner_m;  ///< in tank coordinates, at the rim's height
    double below_m = 0.0, above_m = 0.0;   ///< how far the span reaches under and over that height
    double radius_m = 0.0;                 ///< of a sphere about the base that holds all spans
};

Rim rim_of(const ColonyBody& body);

/// Distance of each corner's span of a rim from a body [m]: sideways from the body's outline, and
/// upright from what of the body stands there; 0 where they overlap. Distances over `limit_m` may
/// be given as any larger number.
std::array<double, kSegments> distances_m(const Rim& rim, const ColonyBody& body,
                                          const Rim& body_rim, double limit_m);

}  // namespace bedshade
