// A season that was broken off: how the tank stood by then, to go on from.
//
// Two sorts of things are kept. What tells how a coral stands can be read, and changed. A memory
// holds what the program itself goes by from one look to the next (for which shapes it last traced
// light, means over the last month …): with it a season that goes on comes to the same bits as one
// that was never broken off; without it, to the same within what such shortcuts cost.
#pragma once

#include <array>
#include <cstdint>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "model/base/geometry.h"
#include "model/reef/reef.h"

namespace bedshade {

/// What of a colony decides its shape, as it was when it was last drawn for some purpose.
struct DrawnShape {
    bool present = false;
    Vec3 position_m = Vec3::Zero();
    RadialProfile radius_m{};
    double height_m = 0.0;
};

/// Diffuse light of a colony when it was first seen, and the lamps and water it was under.
struct BaselineLight {
    std::vector<double> light;        ///< [patch][lamp] [umol m-2 s-1]
    std::vector<double> scale, left;  ///< by lamp
};

/// A fall in the step that ended: why, from, to, onto whom (-1: nobody), gust, speed it holds.
using FallFigures = std::array<double, 10>;

/// Points of a running mean: day, value, integral.
using MeanPoints = std::vector<std::array<double, 3>>;

struct ColonyMemory {
    DrawnShape drawn, received, pictured;  ///< for direct light, where it falls, diffuse light
    std::vector<double> top_light, under_light;  ///< diffuse, [place][lamp] [umol m-2 s-1]
    BaselineLight baseline;
    double need_guess = 0.0;  ///< factor on its light at which its carbon was even
    double lee_radius_m = 0.0, lee_height_m = 0.0;  ///< of the body whose lee the sand last lay in
    Vec3 lee_base_m = Vec3::Zero();
    std::vector<FallFigures> falls;     ///< in the order in which it fell
    std::array<MeanPoints, 3> carbon;   ///< net, with others as set, without inhibition
    double carbon_day_d = 0.0;          ///< of the last point
    std::optional<double> carbon_mean;  ///< of net, when it was last known
    double too_slow_since_d = -1.0, too_fast_since_d = -1.0;  ///< in such flow; negative: is not
    std::optional<Vec3> home_m;                               ///< where it was put last
};

/// How a colony stands at the beginning of the day that a season goes on from, before what its
/// keeper does on that day.
struct ColonySoFar {
    ColonyState state;
    /// Neighbours it is in contact with, by name, and the day of the season on which that began.
    /// Of two that touch one names the other.
    std::vector<std::pair<std::string, double>> touched_since_d;
    std::string stung_by, overgrown_by;  ///< by name, last; empty: by nobody
    bool by_chemistry = false;           ///< the one that stings it does so without touch
    std::uint32_t raised = 0;            ///< flags, a bit for each kind
    std::optional<ColonyMemory> memory;
};

/// Diffuse light of the tank's own surfaces, [place][lamp] [umol m-2 s-1]; may be empty.
struct TankMemory {
    std::vector<double> bed_light, solid_light;
};

/// The whole of it.
struct SeasonSoFar {
    double day_d = 0.0;                 ///< after the season's start
    std::vector<ColonySoFar> colonies;  ///< same order as Layout::colonies
    TankMemory tank;
};

}  // namespace bedshade
