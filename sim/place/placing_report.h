// The reports of `bedshade place`: all kinds, one kind's map of the bed, all kinds at one site.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "sim/place/placing.h"

namespace bedshade {

/// Every kind with its best site, suitable ones first.
std::string placing_text(const BedForecast& bed, const std::vector<KindOnBed>& kinds);

/// One kind: its best site, and a map of where it is suitable.
std::string placing_map_text(const BedForecast& bed, const KindOnBed& kind);

/// Every kind at one site.
std::string placing_site_text(const BedForecast& bed, const std::vector<Candidate>& candidates,
                              const std::vector<SiteAssessment>& assessments);

/// The request, as recorded in the JSON document.
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
