// Sediment rejection: the rate at which a coral removes sand from its tissue, and the loads at
// which the remaining sand dims its light and smothers it.
#pragma once

#include "model/reef/taxon.h"

namespace bedshade {

/// Smothering load: sand that kills tissue when it stays [kg/m2]: 70 mg/cm2. With the rejection
/// rates of the five classes (0.3 to 3.5 per day) the lethal steady deposition agrees with
/// experiments on plating Montipora and branching Acropora (Flores et al. 2012).
inline constexpr double kSmotheringLoad_kg_m2 = 0.7;

/// Largest factor of flow on the rejection rate in still water; rejection increased over 0 to 17
/// cm/s in Duckworth, Giofre & Jones 2017. The factor itself is a guess.
inline constexpr double kMaxFlowFactor = 2.5;

/// Load that dims light to 1/e [kg/m2]: 40 mg/cm2, about a quarter of a millimetre of settled sand.
/// A guess: sand lies in patches, so it dims less than a layer of its mean thickness.
inline constexpr double kDimmingLoad_kg_m2 = 0.4;

/// Transmittance of a load of sand, exp(-m/kDimmingLoad_kg_m2) [1].
double sand_transmittance(double load_kg_m2);

/// Sediment rejection rate k [1/d]. Flow increases it by the taxon's gain per 0.1 m/s. Rejection
/// costs mucus and cilia: bleached corals hold three to four times as much sand (Bessell-Browne et
/// al. 2017), so below half of the `reserve` (a guess) the rate decreases, to a third at reserve 0.
double rejection_rate_per_d(const Taxon& taxon, double flow_speed_m_s, double reserve = 1.0);

/// Time in which buried free-living corals excavate themselves by pulsed inflation, 10 to 20 h
/// (Bongaerts et al. 2012): the mean [d]. The depth of the layer is not considered.
inline constexpr double kDigsOut_d = 15.0 / 24.0;

/// Whether a coral can excavate itself: free-living discs can while they have a reserve.
bool digs_itself_out(const Taxon& taxon, double reserve);

/// Steady deposition kept on the tissue at which the steady-state load D/k is the smothering load
/// [kg m-2 d-1].
double smothering_deposition_kg_m2_d(double rejection_per_d);

}  // namespace bedshade
