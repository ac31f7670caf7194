// One colony's carbon on one day, from the light on its patches.
#pragma once

#include <vector>

#include "model/growth/energy.h"
#include "model/light/colony_light.h"
#include "model/light/light_receptor.h"
#include "model/reef/reef.h"

namespace bedshade {

struct ColonyCarbon {
    double ppfd_mean_umol_m2_s = 0.0;  ///< area mean over its patches, lamps at plateau
    double peak_umol_m2_s = 0.0;       ///< brightest light of the day, area mean
    double dli_mol_m2_d = 0.0;
    double need_dli_mol_m2_d = 0.0;    ///< at which net carbon is zero; infinite when none would do
    double need_ppfd_umol_m2_s = 0.0;  ///< the same as plateau light
    double need_scale = 0.0;           ///< the same as a factor on the light it has
    double net = 0.0, net_others_at_baseline = 0.0, net_uninhibited = 0.0;
    RadialProfile net_by_sector{};
};

/// Carbon of a colony in some water whose light passes `sand_transmittance` of sand lying on it.
/// `scale_guess` is the last day's need_scale, or 0: it only speeds the search up.
ColonyCarbon carbon_of(const Taxon& taxon, const ColonyState& state,
                       const AmbientConditions& ambient, const LightDay& day,
                       const std::vector<LightReceptor>& receptors, const ColonyLight& light,
                       double sand_transmittance, double scale_guess);

}  // namespace bedshade
