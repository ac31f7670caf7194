// What `bedshade place` tells: the list of kinds, one kind's map of the bed, one site's kinds.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "sim/place/placing.h"

namespace bedshade {

/// Every kind with its best site, those that do first.
std::string placing_text(const BedForecast& bed, const std::vector<KindOnBed>& kinds);

/// One kind: what is said of its best site, and where on the bed it does.
std::string placing_map_text(const BedForecast& bed, const KindOnBed& kind);

/// Every kind at one site.
std::string placing_site_text(const BedForecast& bed, const std::vector<Candidate>& candidates,
                              const std::vector<SiteAssessment>& assessments);

/// What a JSON document says of how it was asked for.
struct PlacingRequest {
    std::uint64_t seed = 1;
    std::vector<std::string> warnings;
};

/// All of placing_text as one JSON document (format 1), with every margin; `with_maps` adds every
/// margin of every cell. Margins are natural logarithms or centimetres, null where there is no
/// limit.
std::string placing_json(const BedForecast& bed, const std::vector<KindOnBed>& kinds,
                         const PlacingRequest& request, bool with_maps);

/// The same for one site.
std::string placing_site_json(const BedForecast& bed, const std::vector<Candidate>& candidates,
                              const std::vector<SiteAssessment>& assessments,
                              const PlacingRequest& request);

}  // namespace bedshade
