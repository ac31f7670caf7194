// The vertical profile of each growth form: the half cross-section that an outline is swept along.
#pragma once

#include <array>

#include "model/reef/taxon.h"

namespace bedshade {

/// A point of a profile: how far out, as a share of the outline's radius there, and how high.
struct ProfilePoint {
    double s = 0.0;    ///< share of the outline's radius, 0 on the axis to 1 at the rim [1]
    double z_m = 0.0;  ///< above the base, along the axis
};

/// A half cross-section from the axis at the base, out along the underside, over the rim, and back
/// along the upper side to the axis. It does not cross itself, and along the upper side `s` falls.
struct Profile {
    static constexpr int kMaxPoints = 9;
    std::array<ProfilePoint, kMaxPoints> points{};
    int count = 0;
    int upper = 0;         ///< index of the first point (s = 1) of the upper side
    double rim_z_m = 0.0;  ///< height at which the rim stands

    const ProfilePoint& operator[](int i) const { return points[static_cast<std::size_t>(i)]; }
    const ProfilePoint& last() const { return (*this)[count - 1]; }
};

/// No part of a colony is thinner than this.
inline constexpr double kLeastThickness_m = 0.003;
/// The base floats by this much, so that it never coincides with the sand or rock it stands on.
inline constexpr double kBaseLift_m = 0.0002;

/// The profile of a form of some height above its base; heights under kLeastThickness_m (4 mm for
/// forms on a stem) are drawn at that. Shapes follow the plain descriptions of the forms in
/// Veron (2000, Corals of the World; from memory), their proportions are common practice, no
/// source.
Profile profile_of(Form form, double height_m);

/// Point a share `t` of the way from `a` to `b`.
inline ProfilePoint between(const ProfilePoint& a, const ProfilePoint& b, double t) {
    return {a.s + t * (b.s - a.s), a.z_m + t * (b.z_m - a.z_m)};
}

}  // namespace bedshade
