// What is observed of one colony on one day.
#pragma once

#include <vector>

#include "model/contact/infauna.h"
#include "model/light/light_field.h"
#include "model/reef/reef.h"
#include "model/sediment/sand_load.h"

namespace bedshade {

/// Its light and the carbon that it makes of it.
struct ColonyCarbon {
    double ppfd_mean_umol_m2_s = 0.0;  ///< area mean over its live patches, lamps at plateau
    double peak_umol_m2_s = 0.0;       ///< brightest light of the day, area mean
    double dli_mol_m2_d = 0.0;         ///< the day's photons on the mean live patch
    double need_dli_mol_m2_d = 0.0;    ///< at which net carbon is zero; infinite when none would do
    double need_ppfd_umol_m2_s = 0.0;  ///< the same as plateau light
    double need_scale = 0.0;           ///< the same as a factor on the light it has
    double net_carbon = 0.0;           ///< dark-respiration days per day
    double net_others_at_baseline = 0.0;  ///< the same with every other colony at its day-0 outline
    double net_uninhibited = 0.0;         ///< the same without inhibition by strong light
    RadialProfile net_by_sector{};
};

/// How much of the sand that lands on a colony comes from one source.
struct SandShare {
    enum class Kind : unsigned char { pump, inhabitant } kind = Kind::pump;
    int source = -1;     ///< index into Layout::pumps or Layout::inhabitants
    double share = 0.0;  ///< [0, 1]
};

/// The sand that the coming step brings to it.
struct ColonySand {
    SandStep sand_step;
    double flow_speed_m_s = 0.0;
    double deposition_kg_m2_d = 0.0;  ///< mean over the step, before its shape sheds its share
    std::vector<SandShare> sand_by;   ///< largest first
};

struct ColonyObservation : ColonyCarbon, ColonySand, ContactState::Harm {
    std::vector<ShadeShare> shade_by;              ///< largest first
    std::vector<ShadeShare> shade_since_baseline;  ///< the part gained since day 0, largest first
    Irritation irritated_by;                       ///< animals at its base
    Vec2 brighter_side = Vec2::Zero();             ///< of a colony that walks toward light
};

}  // namespace bedshade
