#include "model/flow/jet_mixing.h"

#include <cmath>

namespace bedshade {
namespace {

/// Half-width in cells from which a jet has its full eddy viscosity. Below 1, since the imposed
/// Gaussian needs some distance to become the profile of constant viscosity; 2/3 keeps the
/// centreline of a free jet within 10 % of the measured decay (tests/published/free_jet_test.cpp).
constexpr double kMixingCells = 2.0 / 3.0;
/// Fraction of the viscosity before that; enough to prevent roll-up of the jet's edge.
constexpr double kUnresolvedShare = 0.05;

double mixing_share(const Jet& jet, double along_m, double cell_m) {
    return half_width_m(jet, along_m) < kMixingCells * cell_m ? kUnresolvedShare : 1.0;
}

}  // namespace

double jet_eddy_viscosity_m2_s(double kinematic_thrust_m4_s2, double spread) {
    // Both decay as Uc x = constant: B d U0 = B sqrt(4 K/pi) measured, 3 K/(8 pi nu) exact.
    const double decay = kJetMomentumProduct / spread;
    return 3.0 * std::sqrt(kinematic_thrust_m4_s2) / (8.0 * kPi * decay * std::sqrt(4.0 / kPi));
}

JetMixing::JetMixing(const std::vector<Pump>& running, double section_m2, double cell_m)
    : cell_m_(cell_m) {
    for (const Pump& pump : running) {
        const double thrust = thrust_N(1.0, pump.flow_m3_s, pump.nozzle_m);
        const Jet jet{pump.position_m, pump.direction,
                      nozzle_speed_m_s(pump.flow_m3_s, pump.nozzle_m), pump.nozzle_m,
                      kNozzleJetSpread};
        jets_.push_back({jet, thrust / section_m2, jet_eddy_viscosity_m2_s(thrust)});
    }
}

double JetMixing::viscosity_m2_s(const Vec3& point_m) const {
    double sum = 0.0, weights = 0.0;
    for (const JetViscosity& jet_viscosity : jets_) {
        const Vec3 offset = point_m - jet_viscosity.jet.nozzle_m;
        const double along = offset.dot(jet_viscosity.jet.direction);
        const double radius = (offset - along * jet_viscosity.jet.direction).norm();
        const double speed = jet_speed_m_s(jet_viscosity.jet, along, radius);
        const double share = along > 0.0 ? mixing_share(jet_viscosity.jet, along, cell_m_) : 1.0;
        const double weight = speed * speed + jet_viscosity.far_m2_s2;
        sum += weight * share * jet_viscosity.viscosity_m2_s;
        weights += weight;
    }
    return weights > 0.0 ? sum / weights : 0.0;
}

}  // namespace bedshade
