// How far apart two colonies are, corner by corner of their rims.
#pragma once

#include <algorithm>
#include <array>
#include <limits>
#include <vector>

#include "model/base/geometry.h"
#include "model/growth/body.h"

namespace bedshade {

/// An upright stretch; empty (low above high) until it holds something.
struct UprightSpan {
    double low_m = std::numeric_limits<double>::infinity();
    double high_m = -std::numeric_limits<double>::infinity();

    void hold(double z_m) {
        low_m = std::min(low_m, z_m);
        high_m = std::max(high_m, z_m);
    }
};

/// Of the parts of a profile so far out that they belong to the rim [m above the base].
UprightSpan rim_span(const Profile& profile);
/// From the lowest to the highest part of a body at a share of its radius [m above the base].
UprightSpan span_at(const Profile& profile, double s);

/// A colony's rim as contact sees it: points round the outline, each an upright span.
struct Rim {
    std::array<Vec3, kSegments> corner_m;  ///< in tank coordinates, at the rim's height
    double below_m = 0.0, above_m = 0.0;   ///< how far the span reaches under and over that height
    double radius_m = 0.0;                 ///< of a sphere about the base that holds all spans
    /// What stands higher than the rim, farther in: points of the upper side by corner, and the top
    /// with the first corner's [m, tank].
    std::array<std::vector<Vec3>, kSegments> crown_m;
};

Rim rim_of(const ColonyBody& body);

/// Distance of each corner's span of a rim from a body [m]: sideways from the body's outline, and
/// upright from what of the body stands there; 0 where they overlap. Where a body hangs over the
/// crown within, the way up to it counts too. Distances over `limit_m` may
/// be given as any larger number.
std::array<double, kSegments> distances_m(const Rim& rim, const ColonyBody& body,
                                          const Rim& body_rim, double limit_m);

}  // namespace bedshade
