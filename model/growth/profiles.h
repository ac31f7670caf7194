// The vertical profile of each growth form: the half cross-section that an outline is swept along.
#pragma once

#include <array>

#include "model/reef/taxon.h"

namespace bedshade {

/// A point of a profile, in units of the outline's radius and in height.
struct ProfilePoint {
    double s = 0.0;    ///< fraction of the outline's radius, 0 on the axis to 1 at the rim [1]
    double z_m = 0.0;  ///< above the base, along the axis
};

/// A half cross-section from the axis at the base, out along the underside, over the rim, and back
/// along the upper side to the axis. It does not cross itself, and along the upper side `s`
/// decreases.
struct Profile {
    static constexpr int kMaxPoints = 9;
    std::array<ProfilePoint, kMaxPoints> points{};
    int count = 0;
    int upper = 0;         ///< index of the first point (s = 1) of the upper side
    double rim_z_m = 0.0;  ///< height of the rim

    const ProfilePoint& operator[](int i) const { return points[static_cast<std::size_t>(i)]; }
    const ProfilePoint& last() const { return (*this)[count - 1]; }
};

/// No part of a colony is thinner than this.
inline constexpr double kLeastThickness_m = 0.003;
/// Height of the base above the ground, so that it never coincides with sand or rock.
inline constexpr double kBaseLift_m = 0.0002;

/// The profile of a form of some height above its base; smaller heights are raised to
/// kLeastThickness_m (4 mm for forms on a stem). Shapes follow the descriptions of growth forms in
/// Veron (2000, Corals of the World; from memory); their proportions are common practice, no
/// source.
Profile profile_of(Form form, double height_m);

/// Linear interpolation from `a` (t = 0) to `b` (t = 1).
inline ProfilePoint between(const ProfilePoint& a, const ProfilePoint& b, double t) {
    return {a.s + t * (b.s - a.s), a.z_m + t * (b.z_m - a.z_m)};
}

}  // namespace bedshade
