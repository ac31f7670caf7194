// Exact solution of the Navier-Stokes equations for a round jet from a point.
#pragma once

#include "model/base/geometry.h"

namespace bedshade::cases {

/// Landau 1944; Squire 1951 (from memory). It is directed along x from `from_m`; `shape` > 1,
/// closer to 1 for narrower jets.
struct LandauJet {
    Vec3 from_m = Vec3::Zero();
    double viscosity_m2_s = 1.0;
    double shape = 1.05;

    Vec3 velocity_m_s(const Vec3& point_m) const {
        const Vec3 p = point_m - from_m;
        const double r = p.norm(), cosine = p.x() / r, apart = shape - cosine;
        const double radial = 2.0 / r * ((shape * shape - 1.0) / (apart * apart) - 1.0);
        const Vec3 outward = p / r;
        // The polar velocity, -2 sin/(r (A - cos)), points along (cos e_outward - e_x)/sin.
        const Vec3 polar = -2.0 / (r * apart) * (cosine * outward - Vec3::UnitX());
        return viscosity_m2_s * (radial * outward + polar);
    }
};

}  // namespace bedshade::cases
