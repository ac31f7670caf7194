#include "model/growth/rock_probe.h"

namespace bedshade {

RockProbe::RockProbe(const Rock& rock) : rock_(rock), bounds_(bounds_of(rock)) {}

bool RockProbe::inside(const Vec3& point_m) const {
    return bounds_.contains(point_m) && bedshade::inside(rock_, point_m);
}

std::optional<double> RockProbe::top_at(double x_m, double y_m) const {
    if (x_m < bounds_.min.x() || x_m > bounds_.max.x() || y_m < bounds_.min.y() ||
        y_m > bounds_.max.y())
        return std::nullopt;
    return bedshade::top_at(rock_, x_m, y_m);
}

}  // namespace bedshade
