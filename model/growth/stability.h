// Stability of loose corals on rock: whether a coral slides, tips or falls, and where it lands.
//
//   W = kWeightInWater_N_m3 kSolidFraction A h       weight in water [N]
//   F = rho/2 A_d u^2                                drag, coefficient 1 [N]
//   it slides when |W s + F| > mu W, and tips when F l_d > W l_w on level rock
//
// A: planar area [m2]; h: height [m]; A_d: frontal area of the inflated coral [m2]; u: speed of the
// strongest gust [m/s]; s: slope of the ground, downhill [1]; mu = kFriction; l_d, l_w: levers of
// drag and weight about the edge of the bearing [m]. Constants are guesses where marked.
#pragma once

#include <cstdint>
#include <optional>

#include "model/growth/surroundings.h"
#include "model/reef/reef.h"
#include "model/reef/taxon.h"

namespace bedshade {

/// Whether a colony is not attached to its ground. Free-living discs and single fleshy polyps are
/// loose unless the layout says that they are attached; others are attached by their skeleton or by
/// glue.
bool is_loose(const Taxon& taxon, const Colony& colony);

/// Friction coefficient of a skeleton on rock [1], and radius of the bearing of a rounded bottom
/// relative to the coral's radius [1]: guesses, no source.
inline constexpr double kFriction = 0.5;
inline constexpr double kBearingFraction = 0.3;
/// Weight in water per volume of a coral [N/m3]: skeletons of bulk density 1.5 g/cm3 (0.9 to 2.0 in
/// the Coral Trait Database), of aragonite (2.93 g/cm3) in sea water (1.025); the coral fills half
/// of its enclosing cylinder (a guess).
inline constexpr double kWeightInWater_N_m3 = 9.81 * 1500.0 * (1.0 - 1025.0 / 2930.0);
inline constexpr double kSolidFraction = 0.5;
/// Least height of a fall [m].
inline constexpr double kFallHeight_m = 0.02;

/// What the water did to a coral in one gust.
struct Gust {
    Vec2 heading = Vec2::UnitX();  ///< unit vector
    double speed_m_s = 0.0;
};

/// Speed of the strongest gust in `days`: mean speed plus the largest of normally distributed
/// fluctuations of this root mean square (all directions together, assumed isotropic), one per
/// minute, sampled with `uniform` from the extreme value distribution (Gumbel 1958).
double strongest_gust_m_s(double mean_m_s, double turbulent_m_s, double days, double uniform);

/// Drag on an inflated coral [N], with drag coefficient 1 (a bluff body), and the speed at which it
/// overcomes friction or tips the coral on level rock [m/s].
double drag_N(const Taxon& taxon, const ColonyState& state, double speed_m_s);
double critical_speed_m_s(const Taxon& taxon, const ColonyState& state);

/// Displacement of a loose coral.
struct Displacement {
    FallCause why = FallCause::edge;
    Vec3 to_m = Vec3::Zero();
    int onto = -1;  ///< colony on which it landed; -1: none
    bool fell(const Vec3& from_m) const { return from_m.z() - to_m.z() >= kFallHeight_m; }
};

/// Displacement of a loose colony on rock in a gust; none when it is stable, not on rock, or
/// blocked. It moves over the edge when more than a third of its bearing is unsupported, down a
/// slope steeper than friction holds, or in a gust that moves or tips it: by one diameter at most,
/// until an edge, a smaller slope, glass or rock stops it. A falling coral lands beside the edge,
/// on the highest rock, colony or sand there, inside the glass.
std::optional<Displacement> displacement_in_gust(const Surroundings& around, int colony,
                                                 const ColonyState& state, const Gust& gust);

/// Displacement of a colony that walks over rock to `to_m` (plan view): it follows the rock up and
/// down, stops where the rock rises too steeply, and falls where its centre is no longer over rock.
Displacement walked_over_rock(const Surroundings& around, int colony, const ColonyState& state,
                              const Vec3& to_m);

}  // namespace bedshade
