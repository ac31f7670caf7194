// Walking of free-living corals over sand, by inflating their tissue or carried by a worm: a random
// walk with phototaxis in fast kinds.
#pragma once

#include <cstdint>

#include "model/growth/surroundings.h"
#include "model/reef/reef.h"
#include "model/reef/taxon.h"

namespace bedshade {

/// Mobility from which a kind shows phototaxis [m/d]: observed in Diaseris distorta, at up to 3
/// cm/h (Yamashiro & Nishihira 1995), the only kind so fast. Slower kinds walk in random
/// directions.
inline constexpr double kPhototaxisMobility_m_d = 0.10;

/// Phototaxis: the direction is a random unit vector plus this factor times the relative difference
/// of light between a colony's sides (a guess, no source).
inline constexpr double kPhototaxisGain = 4.0;

/// Larger discs walk less (Chadwick-Furman & Loya 1992, who observed small ones of 1 to 6 cm). The
/// taxon's mobility holds up to this diameter [m]; above it is inversely proportional to the area
/// (a guess, no source).
inline constexpr double kFullMobilityDiameter_m = 0.05;

/// Largest daily distance of a colony of this diameter [m/d].
double mobility_m_d(const Taxon& taxon, double across_m);

/// The intended walk of a colony on one day: a random direction and a length uniform up to
/// mobility_m_d. Typical distances are not published, only the largest ones (Chadwick-Furman & Loya
/// 1992).
///
/// `brighter` points to its brighter side; its length is the difference from the mean light over
/// the mean light.
Vec2 days_walk_m(const Taxon& taxon, double across_m, const Vec2& brighter, std::uint64_t seed,
                 std::uint32_t member, std::int32_t day, int colony);

/// Position of the base of colony `colony` after a walk, up to the first obstacle: glass, rock or
/// another colony of `around`. What it already touches does not prevent it from walking away.
Vec3 walked_to_m(const Surroundings& around, int colony, const ColonyState& state,
                 const Vec2& walk_m);

}  // namespace bedshade
