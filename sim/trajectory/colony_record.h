// What a trajectory keeps of a colony: once for the run, and in every frame.
#pragma once

#include <array>
#include <string>
#include <vector>

#include "model/base/geometry.h"
#include "model/growth/forms.h"
#include "model/reef/layout.h"
#include "model/reef/reef.h"

#include "sim/run/snapshot.h"

namespace bedshade {

/// What does not change during a run.
struct ColonyFacts {
    std::string name;
    std::string taxon;  ///< its id
    Form form = Form::massive;
    std::string on;  ///< "sand", a rock's name, or empty
    double facing_azimuth_rad = 0.0, facing_tilt_rad = 0.0;
};

ColonyFacts facts_of(const Layout& layout, const Colony& colony);

/// The neighbours that take most light are kept by name, the others as a sum.
inline constexpr int kShadeRanks = 8;

/// One colony in one frame. Where it is absent, every figure is NaN and it has no shade.
struct ColonyRecord {
    bool present = false;
    Stage stage = Stage::absent;
    Vec3 position_m = Vec3::Zero();
    RadialProfile radius_m{};
    double diameter_m = 0.0;
    double height_m = 0.0;
    double live_fraction = 0.0;
    double ppfd_mean_umol_m2_s = 0.0;
    double dli_mol_m2_d = 0.0;
    double need_dli_mol_m2_d = 0.0;
    double net_carbon = 0.0;
    double reserve = 0.0;
    double sand_kg_m2 = 0.0;
    double flow_speed_m_s = 0.0;
    double shade_by_other = 0.0;
    std::vector<ShadeShare> shade_by;  ///< largest first, kShadeRanks at most
};

ColonyRecord record_of(const ColonyState& state, const ColonyObservation& finding);

/// Whether a colony is there and of a size that can be: what a broken file says beyond 100 m is not
/// drawn.
bool can_be_drawn(const ColonyRecord& record);

/// The shape of a colony that can be drawn.
ColonyShape shape_of(const ColonyFacts& facts, const ColonyRecord& record);

/// A figure of a ColonyRecord and the dataset that holds it.
struct ColonyQuantity {
    const char* dataset;
    const char* units;
    const char* long_name;
    double ColonyRecord::*value;
};

inline constexpr std::array kColonyQuantities = {
    ColonyQuantity{"diameter", "m", "diameter of the disc with the outline's area",
                   &ColonyRecord::diameter_m},
    ColonyQuantity{"height", "m", "height of the top above the base", &ColonyRecord::height_m},
    ColonyQuantity{"live_fraction", "1", "share of the surface that carries tissue",
                   &ColonyRecord::live_fraction},
    ColonyQuantity{"ppfd_mean", "umol m-2 s-1",
                   "photon flux density 400-700 nm, mean of the live patches, lamps at plateau",
                   &ColonyRecord::ppfd_mean_umol_m2_s},
    ColonyQuantity{"dli", "mol m-2 d-1", "photons of the day on the mean live patch",
                   &ColonyRecord::dli_mol_m2_d},
    ColonyQuantity{"need_dli", "mol m-2 d-1",
                   "photons of a day at which its net carbon would be zero",
                   &ColonyRecord::need_dli_mol_m2_d},
    ColonyQuantity{"net_carbon", "1", "net carbon, in days of dark respiration per day",
                   &ColonyRecord::net_carbon},
    ColonyQuantity{"reserve", "1", "reserve, 1 full and 0 spent", &ColonyRecord::reserve},
    ColonyQuantity{"sand_load", "kg m-2", "sand lying on the tissue", &ColonyRecord::sand_kg_m2},
    ColonyQuantity{"flow_speed", "m s-1", "speed of the water about the colony",
                   &ColonyRecord::flow_speed_m_s},
    ColonyQuantity{"shade_by_other", "1",
                   "share of its light without neighbours that those beyond shade_by take",
                   &ColonyRecord::shade_by_other},
};

}  // namespace bedshade
