#include "sim/trajectory/flow_sample.h"

#include <algorithm>
#include <cmath>

namespace bedshade {
namespace {

/// Cell centres along a side.
std::vector<double> points_along(double side_m) {
    constexpr double kSpacing_m = 0.05;
    constexpr double kMostPoints = 40.0;
    const int count =
        static_cast<int>(std::clamp(std::round(side_m / kSpacing_m), 1.0, kMostPoints));
    std::vector<double> points;
    points.reserve(static_cast<std::size_t>(count));
    for (int i = 0; i < count; ++i) points.push_back(side_m * (i + 0.5) / count);
    return points;
}

}  // namespace

FlowSample flow_sample(const Tank& tank, const FlowField& flow) {
    FlowSample sample;
    sample.x_m = points_along(tank.length_m);
    sample.y_m = points_along(tank.width_m);
    sample.z_m = points_along(tank.water_depth_m);
    sample.states = static_cast<int>(flow.settings().size());
    for (std::size_t setting = 0; setting < flow.settings().size(); ++setting)
        for (const double z : sample.z_m)
            for (const double y : sample.y_m)
                for (const double x : sample.x_m) {
                    const Vec3 at(x, y, z);
                    const Vec3 mean = flow.setting_velocity_m_s(setting, at);
                    const double speed = flow.setting_speed_m_s(setting, at);
                    const double rest2 = std::max(0.0, speed * speed - mean.squaredNorm());
                    for (int axis = 0; axis < 3; ++axis)
                        sample.velocity_m_s.push_back(static_cast<float>(mean[axis]));
                    sample.turbulent_speed_m_s.push_back(static_cast<float>(std::sqrt(rest2)));
                }
    return sample;
}

}  // namespace bedshade
