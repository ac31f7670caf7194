// Simulates one coral at one site with the forecast's own models. One-way: its neighbours are those
// of the forecast and are not affected by it.
#pragma once

#include "sim/advice/site.h"
#include "sim/advice/site_assessment.h"

namespace bedshade {

/// Distance within which neighbours can affect any of the candidates [m].
double search_radius_of(const BedForecast& bed, const std::vector<Candidate>& candidates);

/// The assessment of a candidate at a site. If the site is taken, the rest is left empty.
SiteAssessment assess_site(const BedForecast& bed, const Site& site, const Candidate& candidate);

}  // namespace bedshade
