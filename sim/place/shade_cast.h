// The shade that a coral at a site casts on a neighbour.
#pragma once

#include "sim/advice/site.h"
#include "sim/advice/site_assessment.h"

namespace bedshade {

/// Notes in `assessment` the light of a neighbour over its need on a day when a coral of this size
/// is at the site. The light taken is the fraction of the neighbour's sky that the coral blocks.
void note_shade(const BedForecast& bed, std::size_t day, const Site& site, int neighbour,
                const Candidate& candidate, double radius_m, double height_m,
                SiteAssessment& assessment);

}  // namespace bedshade
