// Whether a loose coral keeps its place on rock, and where it comes down when it does not.
#pragma once

#include <cstdint>
#include <optional>

#include "model/growth/surroundings.h"
#include "model/reef/reef.h"
#include "model/reef/taxon.h"

namespace bedshade {

/// Whether a colony lies loose on what it stands on. Free-living discs and single fleshy polyps do
/// unless the keeper has fixed them; all else holds on by its skeleton, or its keeper's glue.
bool is_loose(const Taxon& taxon, const Colony& colony);

/// Friction of a skeleton on rock [1], and how far from its middle a rounded bottom bears on rock,
/// as a share of its radius [1]: guesses, no source.
inline constexpr double kFriction = 0.5;
inline constexpr double kBearingFraction = 0.3;
/// Weight in water of a unit of a coral's volume [N/m3]: skeletons of 1.5 g/cm3 in bulk, voids and
/// all (0.9 to 2.0 in the Coral Trait Database), of aragonite (2.93 g/cm3) in sea water (1.025);
/// of the cylinder about a coral half is coral (a guess).
inline constexpr double kWeightInWater_N_m3 = 9.81 * 1500.0 * (1.0 - 1025.0 / 2930.0);
inline constexpr double kSolidFraction = 0.5;
/// A coral that comes to lie this much lower has fallen [m].
inline constexpr double kFallHeight_m = 0.02;

/// What made a coral lose its place.
enum class FallCause : std::uint8_t { edge, slope, flow };

/// What the water did to a coral in one gust.
struct Gust {
    Vec2 heading = Vec2::UnitX();  ///< unit vector
    double speed_m_s = 0.0;
};

/// The strongest gust of so many days: mean speed plus what a steady turbulence of this root mean
/// square (all directions together) reaches at its worst, drawn from the distribution of largest
/// values (Gumbel 1958) of a normal one, a gust a minute. Isotropy is assumed.
double strongest_gust_m_s(double mean_m_s, double turbulent_m_s, double days, double uniform);

/// Drag on an inflated coral [N], area times pressure at drag coefficient 1 (a bluff body), and the
/// speeds at which that overcomes friction or tips it over its bearing on level rock [m/s].
double drag_N(const Taxon& taxon, const ColonyState& state, double speed_m_s);
double critical_speed_m_s(const Taxon& taxon, const ColonyState& state);

/// How a coral lost its place.
struct Displacement {
    FallCause why = FallCause::edge;
    Vec3 to_m = Vec3::Zero();
    int onto = -1;  ///< colony that it came down on; -1: none
    bool fell(const Vec3& from_m) const { return from_m.z() - to_m.z() >= kFallHeight_m; }
};

/// What becomes of a loose colony on rock in a gust; nothing when it keeps its place, stands on no
/// rock, or is held by what is around it. Over the edge when more than a third of its bearing is;
/// down a slope steeper than friction holds, or in a gust that moves or tips it: a breadth at a
/// time, until an edge, lesser slope, glass or rock stops it. What falls comes down beside the
/// edge, on the highest rock, colony or sand there, and stays inside the glass.
std::optional<Displacement> displacement_in_gust(const Surroundings& around, int colony,
                                                 const ColonyState& state, const Gust& gust);

/// What becomes of a colony that walks over rock as far as `to_m`, seen from above: it follows the
/// rock up and down, stops where that rises too steeply, and falls where its middle has no more
/// rock under it.
Displacement walked_over_rock(const Surroundings& around, int colony, const ColonyState& state,
                              const Vec3& to_m);

}  // namespace bedshade
