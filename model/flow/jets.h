// Self-similar round turbulent jet of a pump.
//
// Far from the nozzle only the kinematic momentum matters: the centreline speed decays as 1/x and
// the half-width grows as x. The profile is Gaussian, U/Uc = exp(-ln 2 (r/r_half)^2), r_half = S x.
// The profile has the nozzle's momentum when Uc/U0 = B d/x with B S = sqrt(2 ln 2)/2 = 0.5887.
// Range: Re = U0 d/nu above about 1e4 (below, jets decay faster: Abdel-Rahman et al. 1996), and
// half-widths under about a fifth of the tank's width, where return flow begins to weaken the jet.
#pragma once

#include "model/base/geometry.h"

namespace bedshade {

/// B S of a Gaussian jet that conserves momentum: sqrt(2 ln 2)/2.
inline constexpr double kJetMomentumProduct = 0.58870501125773735;

/// Growth of the half-width with distance, S. Measured: 0.096 (Panchapakesan & Lumley 1993), 0.102
/// and 0.094 (Hussein, Capp & George 1994, hot wire and laser). An open propeller's swirling jet
/// spreads about twice as fast (0.21, from the harbour rules of Blaauw & van de Kaa 1978, from
/// memory).
inline constexpr double kNozzleJetSpread = 0.097;

struct Jet {
    Vec3 nozzle_m = Vec3::Zero();
    Vec3 direction = Vec3::UnitX();  ///< unit vector
    double nozzle_speed_m_s = 0.0;
    double nozzle_diameter_m = 0.0;
    double spread = kNozzleJetSpread;  ///< S

    double decay() const { return kJetMomentumProduct / spread; }  ///< B
    /// Length of the core, in which the centreline keeps the nozzle's speed [m].
    double core_m() const { return decay() * nozzle_diameter_m; }
};

/// Speed at the nozzle of a pump that moves `flow_m3_s` through an opening [m/s].
double nozzle_speed_m_s(double flow_m3_s, double nozzle_m);

/// Thrust: momentum flux rho Q^2/A [N]. An open propeller of the same disc and flow has up to twice
/// as much, because its wake contracts.
double thrust_N(double density_kg_m3, double flow_m3_s, double nozzle_m);

double centreline_speed_m_s(const Jet& jet, double distance_m);

/// Radius at which the speed is half that of the centreline [m]; constant within the core, so that
/// momentum is the same at every section.
double half_width_m(const Jet& jet, double distance_m);

/// Volume flux through a section, entrained water included [m3/s].
double volume_flux_m3_s(const Jet& jet, double distance_m);

/// Speed along the jet at `distance_m` from the nozzle and `radius_m` from the axis; 0 behind it.
double jet_speed_m_s(const Jet& jet, double distance_m, double radius_m);

}  // namespace bedshade
