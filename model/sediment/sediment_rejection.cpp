#include "model/sediment/sediment_rejection.h"

#include <algorithm>
#include <cmath>

namespace bedshade {
namespace {

constexpr double kExhaustedFactor = 1.0 / 3.0;
constexpr double kFullVigourReserve = 0.5;

double vigour(double reserve) {
    const double rested = std::clamp(reserve / kFullVigourReserve, 0.0, 1.0);
    return kExhaustedFactor + (1.0 - kExhaustedFactor) * rested;
}

}  // namespace

double sand_transmittance(double load_kg_m2) { return std::exp(-load_kg_m2 / kDimmingLoad_kg_m2); }

double rejection_rate_per_d(const Taxon& taxon, double flow_speed_m_s, double reserve) {
    const double flow = 1.0 + taxon.clearing_flow_gain * flow_speed_m_s / 0.1;
    return taxon.clearing_still_per_d * std::min(flow, kMaxFlowFactor) * vigour(reserve);
}

bool digs_itself_out(const Taxon& taxon, double reserve) {
    return taxon.form == Form::free_living_disc && reserve > 0.0;
}

double smothering_deposition_kg_m2_d(double rejection_per_d) {
    return kSmotheringLoad_kg_m2 * rejection_per_d;
}

}  // namespace bedshade
