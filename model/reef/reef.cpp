#include "model/reef/reef.h"

#include <cmath>

namespace bedshade {

double planar_area_m2(const BySector& radius_m) {
    double sum = 0.0;
    for (const double r : radius_m) sum += r * r;
    return kPi * sum / kSectors;
}

double mean_diameter_m(const BySector& radius_m) {
    return 2.0 * std::sqrt(planar_area_m2(radius_m) / kPi);
}

}  // namespace bedshade
