// Distance between two colonies, for each corner of their rims.
#pragma once

#include <algorithm>
#include <array>
#include <limits>
#include <vector>

#include "model/base/geometry.h"
#include "model/growth/body.h"

namespace bedshade {

/// A vertical interval; empty (low above high) at first.
struct VerticalSpan {
    double low_m = std::numeric_limits<double>::infinity();
    double high_m = -std::numeric_limits<double>::infinity();

    void extend(double z_m) {
        low_m = std::min(low_m, z_m);
        high_m = std::max(high_m, z_m);
    }
};

/// Vertical extent of the rim of a profile [m above the base].
VerticalSpan rim_span(const Profile& profile);
/// Vertical extent of a body at a fraction of its radius [m above the base].
VerticalSpan span_at(const Profile& profile, double s);

/// A colony's rim for contacts: points on the outline, each with a vertical span.
struct Rim {
    std::array<Vec3, kSegments> corner_m;  ///< in tank coordinates, at the rim's height
    double below_m = 0.0, above_m = 0.0;   ///< extent of the span below and above that height
    double radius_m = 0.0;                 ///< of a sphere around the base that contains all spans
    /// Points of the upper side above the rim, by corner; the top is with the first corner [m,
    /// tank].
    std::array<std::vector<Vec3>, kSegments> crown_m;
};

Rim rim_of(const ColonyBody& body);

/// Distance of each corner's span of a rim from a body [m]: horizontal distance to the outline
/// combined with the vertical gap; 0 where they overlap. Where a body is above the crown, the
/// vertical gap to it counts too. Distances over `limit_m` are only lower bounds.
std::array<double, kSegments> distances_m(const Rim& rim, const ColonyBody& body,
                                          const Rim& body_rim, double limit_m);

}  // namespace bedshade
