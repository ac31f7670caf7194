// A coral followed over the horizon on one site, by the forecast's own science but for itself
// alone: its neighbours are those of the layout's forecast and take no notice of it.
#pragma once

#include "sim/advice/site.h"
#include "sim/advice/site_assessment.h"

namespace bedshade {

/// How far from a site a neighbour may be of concern to any of the candidates [m].
double search_radius_of(const BedForecast& bed, const std::vector<Candidate>& candidates);

/// Everything about a candidate at a site. Where the site is taken the rest is left unsaid.
SiteAssessment assess_site(const BedForecast& bed, const Site& site, const Candidate& candidate);

}  // namespace bedshade
