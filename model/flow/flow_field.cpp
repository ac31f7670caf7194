#include "model/flow/flow_field.h"

#include <algorithm>
#include <cmath>

namespace bedshade {

Vec3 FlowField::velocity_m_s(const Vec3& point_m) const {
    Vec3 mean = Vec3::Zero();
    for (std::size_t s = 0; s < settings().size(); ++s)
        mean += settings()[s].time_share * setting_velocity_m_s(s, point_m);
    return mean;
}

double FlowField::speed_m_s(const Vec3& point_m) const {
    double mean_square = 0.0;
    for (std::size_t s = 0; s < settings().size(); ++s) {
        const double speed = setting_speed_m_s(s, point_m);
        mean_square += settings()[s].time_share * speed * speed;
    }
    return std::sqrt(mean_square);
}

double FlowField::peak_speed_m_s(const Vec3& point_m) const {
    double peak = 0.0;
    for (std::size_t s = 0; s < settings().size(); ++s)
        peak = std::max(peak, setting_speed_m_s(s, point_m));
    return peak;
}

}  // namespace bedshade
