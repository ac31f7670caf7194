// Deposition footprint: Gaussian distribution of sand around the point where it lands.
#pragma once

#include "model/base/geometry.h"
#include "model/reef/tank.h"

namespace bedshade {

/// Largest spread, as a fraction of the tank's shorter side; wider distributions are nearly
/// uniform.
inline constexpr double kMaxSpread = 0.4;

/// A Gaussian footprint, reflected at the glass (method of images) so that all sand lands in the
/// tank: its density integrates to 1 over the floor (to 1e-6).
struct Footprint {
    Vec2 centre_m = Vec2::Zero();  ///< inside the tank
    double spread_m = 0.01;        ///< standard deviation along x and along y; at most kMaxSpread

    /// Fraction of the sand per area at a point [1/m2]; with a radius, the approximate mean over a
    /// disc (convolution with a Gaussian of the disc's variance, R^2/4 along each axis).
    double density_per_m2(const Vec2& spot_m, double radius_m, const Tank& tank) const;
};

}  // namespace bedshade
