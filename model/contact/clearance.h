// How much room a colony has left before it and a neighbour get at each other.
#pragma once

#include <limits>
#include <vector>

#include "model/growth/surroundings.h"
#include "model/reef/reef.h"

namespace bedshade {

/// The neighbour that comes nearest to a fight.
struct Clearance {
    /// Gap between the two skeletons less the farther of their reaches [m]: negative where one is
    /// within the other's reach, infinite where nobody stands within kClearanceLooked_m.
    double room_m = std::numeric_limits<double>::infinity();
    int neighbour = -1;
};

/// Neighbours farther apart than this, beyond their reach, are not looked for.
inline constexpr double kClearanceLooked_m = 0.10;

/// By colony, in the reef's order; `around` must have seen this reef. The dead reach nobody, and
/// colonies of one taxon tolerate each other, as in find_contacts.
std::vector<Clearance> clearances(const Surroundings& around, const Reef& reef);

}  // namespace bedshade
