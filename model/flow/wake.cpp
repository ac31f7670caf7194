#include "model/flow/wake.h"

#include <algorithm>
#include <cmath>

namespace bedshade {
namespace {

/// Velocity deficit directly behind a body, decay length in diameters, and lateral spread.
constexpr double kDeficit = 0.4, kLength = 3.0, kSpread = 0.15;
/// Relative heights: the wake is full below the first and 0 above the second.
constexpr double kFullBelow = 0.6, kZeroAbove = 1.2;
/// Below this speed the flow has no direction [m/s].
constexpr double kStill_m_s = 1e-4;

}  // namespace

double wake_share(const FlowBody& body, const Vec3& at_m, const Vec2& flow_direction) {
    const double height = (at_m.z() - body.base_m.z()) / std::max(body.height_m, 1e-3);
    if (height < 0.0 || height >= kZeroAbove || body.radius_m <= 0.0) return 1.0;
    const double diameter = 2.0 * body.radius_m;
    const Vec2 offset = (at_m - body.base_m).head<2>() / diameter;
    const double behind = offset.dot(flow_direction);
    if (behind <= 0.0) return 1.0;
    const double aside = (offset - behind * flow_direction).norm() / (0.5 + kSpread * behind);
    const double in_height = std::min(1.0, (kZeroAbove - height) / (kZeroAbove - kFullBelow));
    return 1.0 - kDeficit * in_height * std::exp(-behind / kLength - aside * aside);
}

double wake_factor(const std::vector<FlowBody>& bodies, int self, const Vec3& at_m,
                   const Vec3& velocity_m_s) {
    const Vec2 level = velocity_m_s.head<2>();
    if (level.norm() < kStill_m_s) return 1.0;
    const Vec2 flow_direction = level.normalized();
    double factor = 1.0;
    for (std::size_t i = 0; i < bodies.size(); ++i)
        if (static_cast<int>(i) != self) factor *= wake_share(bodies[i], at_m, flow_direction);
    return factor;
}

}  // namespace bedshade
