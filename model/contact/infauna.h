// Infauna: worms, crabs and other animals that live in the sand at a coral's base and irritate it.
#pragma once

#include <vector>

#include "model/reef/layout.h"
#include "model/reef/reef.h"

namespace bedshade {

/// Recession speed of tissue with an animal always at its base [mm/d]: a guess, no source. That
/// fleshy corals on sand suffer from such animals is common practice; the rate has not been
/// measured. 1.5 mm a month is slow compared with starvation, and faster than most tissue heals.
inline constexpr double kInfaunaRecession_mm_d = 0.05;

/// Largest height of a base above the sand that infauna reaches [m]: a guess, no source.
inline constexpr double kInfaunaHeight_m = 0.03;

/// Irritation of one colony by infauna.
struct Irritation {
    int inhabitant =
        -1;  ///< index into Layout::inhabitants of the one with the largest effect; -1: none
    double share = 0.0;       ///< its fraction of the irritation [0, 1]
    double speed_mm_d = 0.0;  ///< recession speed, all animals together
};

/// By colony. A kind of animal irritates colonies of sensitive taxa whose base lies in its
/// territory, near the sand. One animal is at one base at a time, during its active hours: `count`
/// animals are distributed over the bases, and more animals than bases have the same effect as one
/// at each.
std::vector<Irritation> infauna_irritation(const Layout& layout, const Reef& reef);

/// Applies the tissue loss of `step_d` days to a colony.
void irritate(const Irritation& irritate, double step_d, ColonyState& state);

}  // namespace bedshade
