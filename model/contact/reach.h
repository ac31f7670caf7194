// Reach of colonies of one taxon against those of another.
#pragma once

#include "model/reef/reef.h"
#include "model/reef/taxon.h"

namespace bedshade {

/// Largest distance at which a colony affects a neighbour, by mechanism, from skeleton to skeleton
/// [m].
struct Reach {
    double polyps_m, sweepers_m, touch_m;
    double most_m() const;
};

/// Reaches are measured from the skeleton, like overhangs: inflated tissue does not increase them.
Reach reach_of(const Taxon& taxon, const Taxon& other);

/// Whether a colony is present and has tissue that can sting or be stung.
bool has_tissue(const ColonyState& state);

}  // namespace bedshade
