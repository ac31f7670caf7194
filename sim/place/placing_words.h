// What is said of a coral on a site: why it would do or not, what would have to change, what to
// mind when setting it, and how well the values behind it are known.
#pragma once

#include <string>
#include <vector>

#include "sim/advice/bed_forecast.h"
#include "sim/advice/site_assessment.h"

namespace bedshade {

/// The name of a colony of the bed's layout, in quotes.
std::string colony_name(const BedForecast& bed, int colony);

/// "0.5 to 2 mm", or "up to 2 mm".
std::string grain_range(double low_m, double high_m);

/// Everything against it in words, the heaviest first; empty where it does.
std::vector<std::string> reasons_against(const BedForecast& bed, const Candidate& candidate,
                                         const SiteAssessment& assessment);

/// What would have to change for a site that fails by little; empty where nothing small would help.
std::vector<std::string> changes_needed(const BedForecast& bed, const Candidate& candidate,
                                        const SiteAssessment& assessment);

/// What to mind though it is no reason against it: a bowl that keeps sand, a coral that walks, a
/// base that needs a ring. Common practice, no source, where no value stands in it.
std::vector<std::string> notes_on(const BedForecast& bed, const Candidate& candidate,
                                  const SiteAssessment& assessment);

/// "light analog, growth practice": how well what decides is known.
std::string known_by(const Taxon& taxon, const SiteAssessment& assessment);

/// The taxon's caution where it is about handling the coral, not about trade in it.
std::string handling_caution(const Taxon& taxon);

}  // namespace bedshade
