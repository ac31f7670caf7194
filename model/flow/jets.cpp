#include "model/flow/jets.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace bedshade {
namespace {

double disc_area_m2(double diameter_m) { return 0.25 * kPi * diameter_m * diameter_m; }

}  // namespace

double nozzle_speed_m_s(double flow_m3_s, double nozzle_m) {
    return flow_m3_s / disc_area_m2(nozzle_m);
}

double thrust_N(double density_kg_m3, double flow_m3_s, double nozzle_m) {
    return density_kg_m3 * flow_m3_s * flow_m3_s / disc_area_m2(nozzle_m);
}

double centreline_speed_m_s(const Jet& jet, double distance_m) {
    return jet.nozzle_speed_m_s * jet.core_m() / std::max(distance_m, jet.core_m());
}

double half_width_m(const Jet& jet, double distance_m) {
    return jet.spread * std::max(distance_m, jet.core_m());
}

double volume_flux_m3_s(const Jet& jet, double distance_m) {
    const double half = half_width_m(jet, distance_m);
    return centreline_speed_m_s(jet, distance_m) * kPi * half * half / std::numbers::ln2;
}

double jet_speed_m_s(const Jet& jet, double distance_m, double radius_m) {
    if (distance_m < 0.0) return 0.0;
    const double r = radius_m / half_width_m(jet, distance_m);
    return centreline_speed_m_s(jet, distance_m) * std::exp(-std::numbers::ln2 * r * r);
}

}  // namespace bedshade
