#include "sim/place/sky.h"

#include <cmath>

namespace bedshade {

std::vector<Vec3> window_directions(int count) {
    constexpr double kSeaIndex = 1.34;
    const double golden_rad = kPi * (3.0 - std::sqrt(5.0));
    std::vector<Vec3> directions;
    for (int k = 0; k < count; ++k) {
        const double sine = std::sqrt((k + 0.5) / count) / kSeaIndex;
        const double turn_rad = k * golden_rad;
        directions.emplace_back(sine * std::cos(turn_rad), sine * std::sin(turn_rad),
                                std::sqrt(1.0 - sine * sine));
    }
    return directions;
}

}  // namespace bedshade
