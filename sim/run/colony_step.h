// What a step does to one colony: acclimation, reserve, sand, tissue lost and regained, growth.
#pragma once

#include "model/contact/contact.h"
#include "model/growth/extension.h"
#include "model/sediment/sand_load.h"

#include "sim/run/colony_carbon.h"

namespace bedshade {

/// Everything a colony's step depends on besides itself.
struct ColonyStep {
    double from_d = 0.0, step_d = 0.0;
    const Taxon* taxon = nullptr;
    const Colony* colony = nullptr;
    int index = -1;
    double full_growth_net = 0.0;  ///< full_growth_net_carbon of the taxon
    double equilibrium_saturation_umol_m2_s = 0.0;
    double growth_temperature_factor =
        1.0;  ///< growth_temperature_factor of the water's temperature
};

/// Stage of a colony with this carbon on `day_d`.
Stage stage_of(const ColonyState& state, const ColonyCarbon& carbon, double full_growth_net,
               double day_d);

/// Light side of a step: acclimation, reserve, recession in the dark, healing in the light.
void live_on_light(const ColonyStep& step, const ColonyCarbon& carbon, ColonyState& state);

/// Sand side: the load after the step, and the tissue that dies under it.
void bear_sand(const SandStep& sand, ColonyState& state);

/// Outward growth by what light pays for, until something is in the way.
void grow(const ColonyStep& step, const ColonyCarbon& carbon, const Surroundings& around,
          ColonyState& state);

/// Marks a colony dead when hardly anything of it lives.
void mark_dead(ColonyState& state);

}  // namespace bedshade
