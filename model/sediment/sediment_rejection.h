// How fast a coral rids itself of sand, how much of what falls it keeps, and what the rest does.
#pragma once

#include "model/reef/taxon.h"

namespace bedshade {

/// Sand on tissue that smothers it when it stays [kg/m2]: 70 mg/cm2. With the clearing rates of the
/// five classes (0.3 to 3.5 a day) the steady fallout that kills lies where experiments put it for
/// plating Montipora and branching Acropora (Flores et al. 2012).
inline constexpr double kSmotheringLoad_kg_m2 = 0.7;

/// Flow speeds clearing, up to this factor on the rate in still water; shedding rose over 0 to 17
/// cm/s in Duckworth, Giofre & Jones 2017. The factor itself is a guess.
inline constexpr double kMostFlowFactor = 2.5;

/// Load that dims light to 1/e [kg/m2]: 40 mg/cm2, about a quarter of a millimetre of settled sand.
/// A guess: sand lies in patches, so it dims less than its mean thickness says.
inline constexpr double kDimmingLoad_kg_m2 = 0.4;

/// Share of light that passes a load of sand [1].
double sand_transmittance(double load_kg_m2);

/// Rate at which sand leaves the tissue [1/d]. Flow raises it by the taxon's gain for each 0.1 m/s.
/// Clearing costs mucus and cilia: bleached corals hold three to four times as much sand
/// (Bessell-Browne et al. 2017), so once less than half the `reserve` is left (a guess) the rate
/// falls, to a third of itself at reserve 0.
double rejection_rate_per_d(const Taxon& taxon, double flow_speed_m_s, double reserve = 1.0);

/// Free-living corals that sand covers swell in pulses and are out of it in 10 to 20 h (Bongaerts
/// et al. 2012): the middle of that [d]. How deep a layer stops them is not known to the model.
inline constexpr double kDigsOut_d = 15.0 / 24.0;

/// Whether a coral digs itself out: free-living discs do while they have a reserve to do it on.
bool digs_itself_out(const Taxon& taxon, double reserve);

/// Steady fallout on the tissue, what its shape sheds already taken off, under which the load would
/// settle at the smothering one [kg m-2 d-1].
double smothering_deposition_kg_m2_d(double rejection_per_d);

}  // namespace bedshade
