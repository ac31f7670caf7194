#include "model/reef/reef.h"

#include <cmath>
#include <cstddef>

namespace bedshade {
namespace {

constexpr std::array kStageNames = {"absent",  "settling", "growing", "idle",
                                    "fasting", "receding", "dead"};
static_assert(kStageNames.size() == kStages.size());

}  // namespace

const char* to_string(Stage stage) { return kStageNames[static_cast<std::size_t>(stage)]; }

double planar_area_m2(const RadialProfile& radius_m) {
    double sum = 0.0;
    for (const double r : radius_m) sum += r * r;
    return kPi * sum / kSectors;
}

double mean_diameter_m(const RadialProfile& radius_m) {
    return 2.0 * std::sqrt(planar_area_m2(radius_m) / kPi);
}

}  // namespace bedshade
