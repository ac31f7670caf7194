#include "model/sediment/footprint.h"

#include <algorithm>
#include <cmath>

namespace bedshade {
namespace {

/// Cut-off in standard deviations (neglects 6e-7 of the sand).
constexpr double kCutoff = 5.0;

/// A Gaussian of unit height.
double gaussian(double offset_m, double per_spread_m) {
    const double z = offset_m * per_spread_m;
    return z > kCutoff || z < -kCutoff ? 0.0 : std::exp(-0.5 * z * z);
}

/// One axis: the footprint and its images in the two walls.
double with_images(double at_m, double centre_m, double per_spread_m, double length_m) {
    return gaussian(at_m - centre_m, per_spread_m) + gaussian(at_m + centre_m, per_spread_m) +
           gaussian(2.0 * length_m - centre_m - at_m, per_spread_m);
}

}  // namespace

double Footprint::density_per_m2(const Vec2& spot_m, double radius_m, const Tank& tank) const {
    const double own = std::min(spread_m, kMaxSpread * std::min(tank.length_m, tank.width_m));
    const double variance = own * own + 0.25 * radius_m * radius_m;
    // Images are farther away than the footprint itself, so beyond its cut-off they are 0 too. Most
    // calls end here.
    const Vec2 off = spot_m - centre_m;
    if (off.cwiseAbs2().maxCoeff() > kCutoff * kCutoff * variance) return 0.0;
    const double per_spread = 1.0 / std::sqrt(variance);
    return with_images(spot_m.x(), centre_m.x(), per_spread, tank.length_m) *
           with_images(spot_m.y(), centre_m.y(), per_spread, tank.width_m) / (2.0 * kPi * variance);
}

}  // namespace bedshade
