// How far colonies of one taxon get at those of another.
#pragma once

#include "model/reef/reef.h"
#include "model/reef/taxon.h"

namespace bedshade {

/// Farthest that a colony gets at a neighbour, by each way it has, from skeleton to skeleton [m].
struct Reach {
    double polyps_m, sweepers_m, touch_m;
    double most_m() const;
};

/// Reaches are measured from the skeleton, as overhangs are: inflated tissue does not add to them.
Reach reach_of(const Taxon& taxon, const Taxon& other);

/// Whether a colony is there and has tissue that can sting or be stung.
bool has_tissue(const ColonyState& state);

}  // namespace bedshade
