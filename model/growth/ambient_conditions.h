// Ambient conditions of tissue: effect of flow, food and temperature on photosynthesis, respiration
// and growth. Pure functions; none allocates.
//
// The values of the trait table hold for ordinary flow, usual feeding and 26 degC: there every
// factor here is 1.
#pragma once

#include "model/reef/taxon.h"

namespace bedshade {

/// Factors on the values of the trait table [1].
struct AmbientConditions {
    double capacity = 1.0;     ///< on photosynthesis in bright light
    double feeding = 1.0;      ///< f: on carbon from food; 0 unfed
    double respiration = 1.0;  ///< on respiration
};

/// Temperature for which the trait table holds and at which growth is fastest [degC] (Jokiel &
/// Coles 1977: near 26 in three Hawaiian corals; stock from warmer water may take 1 or 2 more, from
/// memory).
inline constexpr double kBestGrowth_C = 26.0;

/// The ambient conditions in a flow [m/s], with food relative to usual feeding, at a temperature.
AmbientConditions ambient_conditions_of(const Taxon& taxon, double flow_m_s, double food,
                                        double temperature_C);

/// The flow for which the light values of the trait table hold: the geometric mean of the taxon's
/// flow range [m/s]. Photosynthesis is measured in stirred water.
double ordinary_flow_m_s(const Taxon& taxon);

/// Mass transfer limitation of photosynthesis in bright light, relative to ordinary flow: two
/// resistances in series, that of the tissue and that of the boundary layer, which decreases with
/// the square root of speed (Sh ~ Re^0.5, a laminar boundary layer; corals have been measured at
/// exponents of 0.5 to 0.8, from memory). The share of the boundary layer in ordinary flow is 0.15:
/// between 0.06 (a quarter less photosynthesis in unstirred water: Dennison & Barnes 1988, from
/// memory) and 0.4 (Pocillopora damicornis, 2.6 to 9.1 umol O2 cm-2 h-1 from 0.2 to 7.2 cm/s: Coral
/// Trait Database, study 581). Dim photosynthesis, which light alone limits, does not depend on
/// flow (Sebens et al. 2003: no effect on the slope), and bright photosynthesis not in every coral.
/// The increase of respiration with flow is neglected, because it would let starving corals benefit
/// from stagnant water. Speeds under 0.2 cm/s, the lowest measured, count as 0.2 cm/s.
double transfer_share(const Taxon& taxon, double flow_m_s);

/// Prey capture relative to ordinary flow, where it is largest: x exp(1 - x), x the flow over the
/// ordinary flow. More flow brings more prey, but bends tentacles until they hold less (the shape
/// is a guess; intermediate flows are best: Wijgerde et al. 2012, 5 to 10 cm/s for colonies of
/// Galaxea).
double capture_share(const Taxon& taxon, double flow_m_s);

/// Temperature factor of respiration relative to kBestGrowth_C: Q10 = 2 (from memory).
double respiration_temperature_factor(double temperature_C);

/// Temperature factor of photosynthesis in bright light relative to kBestGrowth_C: a broad optimum
/// slightly above habitat temperatures: proportional to exp(-((T - 28.5)/10)^2), T in degC (the
/// optimum of Pocillopora is above Moorea's warmest water, 28.0 +/- 0.9, and within the range of
/// Guam and Okinawa, Journal of Experimental Biology 227, 2024; the width is a guess). Damage by
/// heat is not included.
double photosynthesis_temperature_factor(double temperature_C);

/// Temperature factor of the extension of well-fed tissue relative to kBestGrowth_C: exp(-((T -
/// 26)/6.5)^2), T in degC. Jokiel & Coles 1977 found growth greatest near 26, least at 21 to 22,
/// reduced at 30, and corals dying at 18 and 32; with the width, 2.75 K give the ratio of 1.17 to
/// 1.21 between summer and winter of Bak et al. 2009 (the temperatures there from memory). Not
/// valid for corals dying of cold or heat.
double growth_temperature_factor(double temperature_C);

}  // namespace bedshade
