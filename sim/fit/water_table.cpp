#include "sim/fit/water_table.h"

#include <algorithm>
#include <cmath>

#include "sim/run/calibration.h"

namespace bedshade {
namespace {

constexpr int kWaters = 9;
constexpr double kApart = 2.0 * kMostWaterLog / (kWaters - 1);

double log_factor_of(int water) { return -kMostWaterLog + kApart * water; }

}  // namespace

Layout with_water(Layout layout, double factor) {
    Water& water = layout.water;
    if (water.attenuation_per_m) *water.attenuation_per_m *= factor;
    water.yellowing_per_m *= factor;
    water.turbidity_kg_m3 *= factor;
    return layout;
}

WaterTable::WaterTable(const Layout& layout, const std::vector<Reading>& readings,
                       const ParallelFor& parallel)
    : by_water_(kWaters), lamps_(layout.lamps.size()) {
    parallel(kWaters, [&](std::size_t begin, std::size_t end) {
        for (std::size_t k = begin; k < end; ++k)
            by_water_[k] = lamp_light_at(
                with_water(layout, std::exp(log_factor_of(static_cast<int>(k)))), readings);
    });
}

double WaterTable::light(std::size_t reading, std::size_t lamp, double log_factor) const {
    const double at = (log_factor + kMostWaterLog) / kApart;
    const int first = std::clamp(static_cast<int>(std::floor(at)) - 1, 0, kWaters - 4);
    const auto row = static_cast<std::size_t>(first);
    // Lagrange's cubic through four neighbours.
    double sum = 0.0;
    for (int i = 0; i < 4; ++i) {
        double weight = 1.0;
        for (int j = 0; j < 4; ++j)
            if (j != i) weight *= (at - first - j) / (i - j);
        sum += weight * by_water_[row + static_cast<std::size_t>(i)][reading][lamp];
    }
    return sum;
}

}  // namespace bedshade
