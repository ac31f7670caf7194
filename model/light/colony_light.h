// Light on one colony and its attenuation by neighbours.
#pragma once

#include <vector>

#include "model/light/shade_share.h"

namespace bedshade {

/// Light on one colony, lamps at plateau.
struct ColonyLight {
    std::vector<double> patch_umol_m2_s;  ///< [patch][lamp]
    std::vector<double>
        patch_baseline_umol_m2_s;  ///< [patch][lamp], every other colony as on day 0
    std::vector<ShadeShare> attenuation_by_colony;  ///< by each other colony, in order of index
    std::vector<ShadeShare>
        attenuation_since_baseline;  ///< the part gained since day 0, in order of index
    double direct_alone = 0.0;  ///< direct photons with no other colony there, to which the shares
                                ///< refer: umol/s over the patches, times each lamp's hours a day
};

}  // namespace bedshade
