#include "model/growth/recession.h"

#include <algorithm>
#include <cassert>
#include <cmath>

#include "model/base/days.h"

namespace bedshade {
namespace {

/// Live fraction once the edge of living tissue has moved outward by `by_m` (negative: inward).
double moved_edge(double live_fraction, double radius_m, double by_m) {
    assert(radius_m > 0.0);
    const double edge = std::clamp(std::sqrt(live_fraction) + by_m / radius_m, 0.0, 1.0);
    return edge * edge;
}

}  // namespace

double receded(double live_fraction, double radius_m, double speed_mm_d, double dt_d) {
    return moved_edge(live_fraction, radius_m, -1e-3 * speed_mm_d * dt_d);
}

double healed(double live_fraction, double radius_m, double extension_mm_yr, double dt_d) {
    if (live_fraction <= 0.0) return 0.0;
    return moved_edge(live_fraction, radius_m, 1e-3 * extension_mm_yr * dt_d / kDaysPerYear);
}

double stung(double live_fraction, double radius_m, double speed_mm_d, double dt_d, double touched,
             double depth_m) {
    const double out_of_reach = std::max(1.0 - depth_m / radius_m, 0.0);
    const double spared = 1.0 - touched * (1.0 - out_of_reach * out_of_reach);
    if (live_fraction <= spared) return live_fraction;
    return std::max(receded(live_fraction, radius_m, touched * speed_mm_d, dt_d), spared);
}

}  // namespace bedshade
