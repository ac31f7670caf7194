// Sand spread over a patch of a level plane about the spot where it comes down.
#pragma once

#include "model/base/geometry.h"
#include "model/reef/tank.h"

namespace bedshade {

/// Widest spread, as a share of the tank's lesser side: beyond it sand is everywhere anyhow.
inline constexpr double kWidestSpread = 0.4;

/// A Gaussian footprint. Glass turns back what would fall beyond it, so that all of it lands in the
/// tank: its density integrates to 1 over the tank's floor (to 1e-6).
struct Footprint {
    Vec2 centre_m = Vec2::Zero();  ///< inside the tank
    double spread_m = 0.01;  ///< standard deviation along x and along y; at most kWidestSpread

    /// Share of the sand for each unit of area at a spot [1/m2]; with a radius, the mean over about
    /// a disc of it (a Gaussian of the disc's variance, R^2/4 along each axis).
    double density_per_m2(const Vec2& spot_m, double radius_m, const Tank& tank) const;
};

}  // namespace bedshade
