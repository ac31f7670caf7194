// What a step hands on to the next one beside the colonies themselves: light that changes slowly,
// contacts, and what happened on the way. All of it is part of the state of a reef.
#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <map>
#include <utility>
#include <vector>

#include "model/base/geometry.h"

namespace bedshade {

/// What of a colony decides its shape, as it was when light was last traced for some purpose.
struct TracedShape {
    bool present = false;
    Vec3 position_m = Vec3::Zero();
    RadialProfile radius_m{};
    double height_m = 0.0;

    bool operator==(const TracedShape& other) const = default;
};

/// Diffuse light of a colony on its day 0, and the lamps and water it was under.
struct BaselineLight {
    std::vector<double> light;                 ///< [patch][lamp] [umol m-2 s-1]
    std::vector<double> scale, transmittance;  ///< by lamp [1]
};

struct ColonyLightState {
    TracedShape occluder;                            ///< as direct light meets it
    TracedShape receiver;                            ///< on which its light is known
    TracedShape diffuse;                             ///< as diffuse light meets it
    std::vector<double> top_light, underside_light;  ///< diffuse, [place][lamp] [umol m-2 s-1]
    BaselineLight baseline;
};

/// Diffuse light, which a day's iteration starts from, and the shapes that light was traced for.
struct LightState {
    std::vector<ColonyLightState> colonies;      ///< same order as Layout::colonies
    std::vector<double> bed_light, solid_light;  ///< diffuse, [place][lamp] [umol m-2 s-1]
};

/// A coral as the flow meets it: an upright cylinder on its base.
struct FlowBody {
    Vec3 base_m = Vec3::Zero();
    double radius_m = 0.0;
    double height_m = 0.0;

    bool operator==(const FlowBody& other) const = default;
};

/// Neighbours in contact: since when, and who was harmed by whom last.
struct ContactState {
    struct Harm {
        int stung_by = -1, overgrown_by = -1;  ///< index into Layout::colonies; -1: nobody
        bool by_chemistry = false;             ///< the one that stings it does so without touch
    };
    std::map<std::pair<int, int>, double> since_d;  ///< day on which a pair's contact began
    std::vector<Harm> harm;                         ///< by colony
};

/// What made a coral lose its place; values are stored in trajectories: never renumber.
enum class FallCause : std::uint8_t { edge, slope, flow };

/// A loose coral that lost its place on rock.
struct Fall {
    int colony = -1;  ///< index into Layout::colonies
    FallCause why = FallCause::edge;
    Vec3 from_m = Vec3::Zero(), to_m = Vec3::Zero();
    int onto = -1;           ///< colony that it came down on; -1: none
    double gust_m_s = 0.0;   ///< that it stood in at the time
    double holds_m_s = 0.0;  ///< speed up to which it would have kept its place on level rock
};

}  // namespace bedshade
