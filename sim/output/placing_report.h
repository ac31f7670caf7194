// What `bedshade place` tells: the list of kinds, one kind's map of the bed, one spot's kinds.
#pragma once

#include <string>
#include <vector>

#include "sim/advice/placing.h"

namespace bedshade {

/// Every kind with its best spot, those that do first.
std::string placing_text(const BedAhead& bed, const std::vector<KindOnBed>& kinds);

/// One kind: what is said of its best spot, and where on the bed it does.
std::string placing_map_text(const BedAhead& bed, const KindOnBed& kind);

/// Every kind at one spot.
std::string placing_spot_text(const BedAhead& bed, const std::vector<Candidate>& candidates,
                              const std::vector<Outlook>& outlooks);

}  // namespace bedshade
