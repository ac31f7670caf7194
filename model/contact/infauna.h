// Worms, crabs and the like that live in the sand at a coral's base and bother what stands there.
#pragma once

#include <vector>

#include "model/reef/layout.h"
#include "model/reef/reef.h"

namespace bedshade {

/// Speed at which tissue withdraws from an animal that is always at its base [mm/d]: a guess, no
/// source. That fleshy corals of the sand do badly over such animals is common practice; nobody has
/// measured how fast. A millimetre and a half a month is slow beside starving, and faster than most
/// tissue heals.
inline constexpr double kBaseDwellerRecession_mm_d = 0.05;

/// What lives in the sand reaches no base higher above it than this [m]: a guess, no source.
inline constexpr double kDwellersClimb_m = 0.03;

/// What bothers one colony.
struct Irritation {
    int inhabitant = -1;  ///< index into Layout::inhabitants of the one that does most; -1: none
    double share = 0.0;   ///< of the harm that it does [0, 1]
    double speed_mm_d = 0.0;  ///< at which tissue withdraws, all animals together
};

/// By colony. A kind of animal bothers the colonies of taxa marked for it whose base lies in its
/// territory, near the sand. One animal is at one base at a time, in its hours only: `count`
/// animals share out over the bases, and more animals than bases are no worse than one at each.
std::vector<Irritation> infauna_irritation(const Layout& layout, const Reef& reef);

/// Tissue that a colony loses to it in `step_d` days.
void irritate(const Irritation& irritate, double step_d, ColonyState& state);

}  // namespace bedshade
