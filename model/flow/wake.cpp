#include "model/flow/wake.h"

#include <algorithm>
#include <cmath>

namespace bedshade {
namespace {

/// Shortfall right behind a body, and how far it lasts and spreads, in its diameters.
constexpr double kDeficit = 0.4, kLength = 3.0, kSpread = 0.15;
/// Of the body's height: the wake is whole up to the first and gone from the second on.
constexpr double kWholeTo = 0.6, kGoneFrom = 1.2;
/// Slower than this water has no direction to speak of [m/s].
constexpr double kStill_m_s = 1e-4;

}  // namespace

double wake_share(const FlowBody& body, const Vec3& at_m, const Vec2& heading) {
    const double height = (at_m.z() - body.base_m.z()) / std::max(body.height_m, 1e-3);
    if (height < 0.0 || height >= kGoneFrom || body.radius_m <= 0.0) return 1.0;
    const double diameter = 2.0 * body.radius_m;
    const Vec2 offset = (at_m - body.base_m).head<2>() / diameter;
    const double behind = offset.dot(heading);
    if (behind <= 0.0) return 1.0;
    const double aside = (offset - behind * heading).norm() / (0.5 + kSpread * behind);
    const double in_height = std::min(1.0, (kGoneFrom - height) / (kGoneFrom - kWholeTo));
    return 1.0 - kDeficit * in_height * std::exp(-behind / kLength - aside * aside);
}

double wake_factor(const std::vector<FlowBody>& bodies, int self, const Vec3& at_m,
                   const Vec3& velocity_m_s) {
    const Vec2 level = velocity_m_s.head<2>();
    if (level.norm() < kStill_m_s) return 1.0;
    const Vec2 heading = level.normalized();
    double factor = 1.0;
    for (std::size_t i = 0; i < bodies.size(); ++i)
        if (static_cast<int>(i) != self) factor *= wake_share(bodies[i], at_m, heading);
    return factor;
}

}  // namespace bedshade
