#include "model/sediment/footprint.h"

#include <algorithm>
#include <cmath>

namespace bedshade {
namespace {

/// Beyond this many deviations there is nothing (6e-7 of the sand).
constexpr double kReach = 5.0;

double gaussian_per_m(double offset_m, double spread_m) {
    const double z = offset_m / spread_m;
    if (std::abs(z) > kReach) return 0.0;
    return std::exp(-0.5 * z * z) / (spread_m * std::sqrt(2.0 * kPi));
}

/// One axis: the footprint and its images in the two walls.
double folded_per_m(double at_m, double centre_m, double spread_m, double length_m) {
    const double direct = gaussian_per_m(at_m - centre_m, spread_m);
    const double near_image = gaussian_per_m(at_m + centre_m, spread_m);
    const double far_image = gaussian_per_m(2.0 * length_m - centre_m - at_m, spread_m);
    return direct + near_image + far_image;
}

}  // namespace

double Footprint::density_per_m2(const Vec2& spot_m, double radius_m, const Tank& tank) const {
    const double own = std::min(spread_m, kWidestSpread * std::min(tank.length_m, tank.width_m));
    const double spread = std::sqrt(own * own + 0.25 * radius_m * radius_m);
    const double x = folded_per_m(spot_m.x(), centre_m.x(), spread, tank.length_m);
    if (x == 0.0) return 0.0;
    return x * folded_per_m(spot_m.y(), centre_m.y(), spread, tank.width_m);
}

}  // namespace bedshade
