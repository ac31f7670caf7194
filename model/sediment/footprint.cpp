#include "model/sediment/footprint.h"

#include <algorithm>
#include <cmath>

namespace bedshade {
namespace {

/// Beyond this many deviations there is nothing (6e-7 of the sand).
constexpr double kReach = 5.0;

/// A Gaussian of unit height.
double bell(double offset_m, double per_spread_m) {
    const double z = offset_m * per_spread_m;
    return z > kReach || z < -kReach ? 0.0 : std::exp(-0.5 * z * z);
}

/// One axis: the footprint and its images in the two walls.
double folded(double at_m, double centre_m, double per_spread_m, double length_m) {
    return bell(at_m - centre_m, per_spread_m) + bell(at_m + centre_m, per_spread_m) +
           bell(2.0 * length_m - centre_m - at_m, per_spread_m);
}

}  // namespace

double Footprint::density_per_m2(const Vec2& spot_m, double radius_m, const Tank& tank) const {
    const double own = std::min(spread_m, kWidestSpread * std::min(tank.length_m, tank.width_m));
    const double variance = own * own + 0.25 * radius_m * radius_m;
    // Images are further off than the footprint itself: out of its reach is out of theirs. Most
    // calls end here.
    const Vec2 off = spot_m - centre_m;
    if (off.cwiseAbs2().maxCoeff() > kReach * kReach * variance) return 0.0;
    const double per_spread = 1.0 / std::sqrt(variance);
    return folded(spot_m.x(), centre_m.x(), per_spread, tank.length_m) *
           folded(spot_m.y(), centre_m.y(), per_spread, tank.width_m) / (2.0 * kPi * variance);
}

}  // namespace bedshade
