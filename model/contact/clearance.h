// Clearance of a colony: distance left before contact with a neighbour.
#pragma once

#include <limits>
#include <vector>

#include "model/growth/surroundings.h"
#include "model/reef/reef.h"

namespace bedshade {

/// The neighbour nearest to contact.
struct Clearance {
    /// Gap between the two skeletons minus the larger of their reaches [m]: negative when one is
    /// within the other's reach, infinite when no neighbour is within kClearanceSearch_m.
    double room_m = std::numeric_limits<double>::infinity();
    int neighbour = -1;
};

/// Largest clearance that is computed [m].
inline constexpr double kClearanceSearch_m = 0.10;

/// By colony, in the reef's order; `around` must hold this reef (set_colonies). Dead colonies have
/// no reach, and colonies of one taxon tolerate each other, as in find_contacts.
std::vector<Clearance> clearances(const Surroundings& around, const Reef& reef);

}  // namespace bedshade
