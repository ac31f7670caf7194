// Corals that walk: free-living ones move over sand, by inflating their tissue or on a worm's back.
#pragma once

#include <cstdint>

#include "model/growth/surroundings.h"
#include "model/reef/reef.h"
#include "model/reef/taxon.h"

namespace bedshade {

/// Kinds that walk this far in a day make for the brighter side [m]: Diaseris distorta, at up to
/// 3 cm/h, is the one that was seen to (Yamashiro & Nishihira 1995), and it is the one so fast.
/// Slower ones walk where chance takes them.
inline constexpr double kPhototaxisMobility_m_d = 0.10;

/// Of the brighter side's pull: a heading is a unit vector at random plus this many times the
/// relative difference of light between a colony's sides (a guess, no source).
inline constexpr double kPhototaxisGain = 4.0;

/// Discs walk less the larger they are (Chadwick-Furman & Loya 1992, who saw small ones go, at 1 to
/// 6 cm across). A kind's mobility is taken to hold up to this size [m]; above it falls as the area
/// grows (a guess, no source).
inline constexpr double kFullMobilityDiameter_m = 0.05;

/// Farthest that a colony so large goes in a day [m].
double mobility_m_d(const Taxon& taxon, double across_m);

/// The walk that a colony sets out on, on one day: a heading, and any length up to what it can
/// (mobility_m_d), all as likely. How far they go on most days is not published: the
/// most they were seen to is (Chadwick-Furman & Loya 1992).
///
/// `brighter` points to its brighter side, as long as light differs there from the mean light on
/// it, relative to that.
Vec2 days_walk_m(const Taxon& taxon, double across_m, const Vec2& brighter, std::uint64_t seed,
                 std::uint32_t member, std::int32_t day, int colony);

/// Where the base of colony `colony` comes to when it sets out on a walk: as far as nothing is in
/// the way. Glass, rock and other colonies are, as `around` has them; what it touches already does
/// not hold it back from walking away.
Vec3 walked_to_m(const Surroundings& around, int colony, const ColonyState& state,
                 const Vec2& walk_m);

}  // namespace bedshade
