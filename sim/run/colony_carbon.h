// One colony's carbon on one day, from the light on its patches.
#pragma once

#include <vector>

#include "model/growth/energy.h"
#include "model/light/colony_light.h"
#include "model/light/light_receptor.h"
#include "model/reef/reef.h"

#include "sim/run/colony_observation.h"

namespace bedshade {

/// Carbon of a colony in some water whose light passes `sand_transmittance` of sand lying on it.
/// `scale_guess`, the last day's need_scale or 0, is where the search for the next one starts.
ColonyCarbon carbon_of(const Taxon& taxon, const ColonyState& state,
                       const AmbientConditions& ambient, const LightDay& day,
                       const std::vector<LightReceptor>& receptors, const ColonyLight& light,
                       double sand_transmittance, double scale_guess);

}  // namespace bedshade
