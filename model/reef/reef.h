// What is alive today: the state that a step carries from one day to another.
#pragma once

#include <array>
#include <cstdint>
#include <vector>

#include "model/base/geometry.h"
#include "model/reef/action.h"
#include "model/reef/carry_over.h"

namespace bedshade {

/// What a colony is going through; values are stored in trajectories: never renumber.
enum class Stage : std::uint8_t {
    absent = 0,
    settling = 1,  ///< alive, not yet growing outward
    growing = 2,
    idle = 3,      ///< alive, net carbon too small to grow
    fasting = 4,   ///< living on its reserve
    receding = 5,  ///< losing tissue
    dead = 6,
};
inline constexpr std::array kStages = {Stage::absent,  Stage::settling, Stage::growing, Stage::idle,
                                       Stage::fasting, Stage::receding, Stage::dead};

/// The stage's name as users see it ("growing").
const char* to_string(Stage stage);

/// Shares of a colony's surface that died, by what killed them [1].
struct TissueLost {
    double to_darkness = 0.0;
    double to_sand = 0.0;
    double to_stings = 0.0;
    double to_overgrowth = 0.0;
    double to_infauna = 0.0;  ///< animals at its base
};

/// What a colony's rim or top has grown up against.
struct Touching {
    bool glass = false;
    bool surface = false;
    bool size_limit = false;
};

struct ColonyState {
    bool present = true;
    Stage stage = Stage::settling;
    Vec3 position_m = Vec3::Zero();     ///< of its base
    RadialProfile radius_m{};           ///< outline of the skeleton from the base's centre
    double height_m = 0.0;              ///< of the top above the base
    double live_fraction = 1.0;         ///< of its surface that carries tissue [1]
    double saturation_umol_m2_s = 0.0;  ///< Ek today
    double reserve = 1.0;               ///< 1 full, 0 spent
    double sand_kg_m2 = 0.0;            ///< sand lying on its tissue
    double sand_transmittance = 1.0;    ///< of light, mean of the last step [1]
    double sand_over_d = 0.0;           ///< days it has been over the taxon's limit without a break
    double settled_at_d = 0.0;          ///< day from which it grows outward
    double need_scale = 0.0;            ///< last compensation light over its light; 0: not known
    TissueLost lost;
    Touching touching;
};

/// The state of a reef at the start of a day: all that a step depends on besides the layout.
struct Reef {
    double day_d = 0.0;
    std::vector<ColonyState> colonies;  ///< same order as Layout::colonies
    LightState light;
    std::vector<FlowBody> wakes;  ///< bodies whose wakes the bed lies in
    ContactState contacts;
    std::vector<AppliedAction> applied_actions;  ///< of this day
    std::vector<Fall> falls;                     ///< in the step that led here
};

/// Diameter of the disc with the same area as the outline [m].
double mean_diameter_m(const RadialProfile& radius_m);

/// Planar area within the outline [m2].
double planar_area_m2(const RadialProfile& radius_m);

}  // namespace bedshade
