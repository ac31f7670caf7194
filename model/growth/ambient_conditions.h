// The water about a piece of tissue: how its flow, food and warmth act on photosynthesis,
// respiration and growth. Pure functions; none allocates.
//
// The trait table's figures are taken to hold in ordinary flow, fed as usual, at 26 degC: there
// every factor here is 1.
#pragma once

#include "model/reef/taxon.h"

namespace bedshade {

/// What the water does to tissue, each against the trait table's figures [1].
struct AmbientConditions {
    double capacity = 1.0;     ///< on photosynthesis in bright light
    double feeding = 1.0;      ///< f: on what food brings; 0 unfed
    double respiration = 1.0;  ///< on respiration
};

/// Temperature at which the table's figures hold and growth is fastest [degC] (Jokiel & Coles 1977:
/// near 26 in three Hawaiian corals; stock from warmer water may take 1 or 2 more, from memory).
inline constexpr double kBestGrowth_C = 26.0;

/// The milieu in a flow [m/s], with food against what is usual, at a temperature.
AmbientConditions ambient_conditions_of(const Taxon& taxon, double flow_m_s, double food,
                                        double temperature_C);

/// The flow in which the table's light figures are taken to hold: the geometric middle of the
/// taxon's flow range [m/s]. Measurements of photosynthesis are made in stirred water.
double ordinary_flow_m_s(const Taxon& taxon);

/// Photosynthesis that the water can serve in bright light, against that in the ordinary flow: two
/// resistances in a row, the tissue's own and that of the water next to it, which falls with the
/// root of speed (Sh ~ Re^0.5, a laminar boundary layer; corals have been measured at exponents of
/// 0.5 to 0.8, from memory). The share of the water in the ordinary flow is 0.15: between 0.06
/// (a quarter less photosynthesis in unstirred water: Dennison & Barnes 1988, from memory) and 0.4
/// (Pocillopora damicornis, 2.6 to 9.1 umol O2 cm-2 h-1 from 0.2 to 7.2 cm/s: Coral Trait
/// Database, study 581). Dim photosynthesis, which light alone limits, does not depend on flow
/// (Sebens et al. 2003: no effect on the slope), and bright photosynthesis not in every coral.
/// That respiration rises with flow as well is left out: it would have starving corals saved by
/// stale water. Speeds under 0.2 cm/s, the least that was measured, count as that.
double transfer_share(const Taxon& taxon, double flow_m_s);

/// Food caught, against that in the ordinary flow, where most is: x exp(1 - x) of x, the flow over
/// it. More water brings more, and bends tentacles until they hold less (the shape is a guess;
/// intermediate flows are best: Wijgerde et al. 2012, 5 to 10 cm/s for colonies of Galaxea).
double capture_share(const Taxon& taxon, double flow_m_s);

/// Respiration at a temperature against that at kBestGrowth_C: doubles in ten degrees (from
/// memory).
double respiration_temperature_factor(double temperature_C);

/// Photosynthesis in bright light at a temperature against that at kBestGrowth_C: best a little
/// above the temperatures lived in, and broad: in proportion to exp(-((T - 28.5)/10)^2), T in degC
/// (Pocillopora's best lies above Moorea's warmest water, 28.0 +/- 0.9, and among the days of Guam
/// and Okinawa, Journal of Experimental Biology 227, 2024; the width is a guess). Harm by heat is
/// not in it.
double photosynthesis_temperature_factor(double temperature_C);

/// Extension of well-fed tissue at a temperature against that at kBestGrowth_C:
/// exp(-((T - 26)/6.5)^2), T in degC. Jokiel & Coles 1977 found growth greatest near 26, least at
/// 21 to 22, reduced at 30, and corals dying at 18 and 32; the width is one at which 2.75 K make
/// the 1.17 to 1.21 between summer and winter of Bak et al. 2009 (the temperatures there from
/// memory). Not for corals dying of cold or heat.
double growth_temperature_factor(double temperature_C);

}  // namespace bedshade
