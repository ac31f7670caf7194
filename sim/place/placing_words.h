// The words of a site assessment: reasons against it, changes needed, notes on placing, and the
// evidence behind it.
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

/// All reasons against it, the worst first; empty if it is suitable.
std::vector<std::string> reasons_against(const BedForecast& bed, const Candidate& candidate,
                                         const SiteAssessment& assessment);

/// Changes that would make a site suitable that fails by little; empty if none would.
std::vector<std::string> changes_needed(const BedForecast& bed, const Candidate& candidate,
                                        const SiteAssessment& assessment);

/// Notes that are no reason against it: a bowl that keeps sand, a coral that walks, a base that
/// needs a ring. Common practice, no source, unless a value is given.
std::vector<std::string> notes_on(const BedForecast& bed, const Candidate& candidate,
                                  const SiteAssessment& assessment);

/// "light analog, growth practice": the evidence for the deciding values.
std::string known_by(const Taxon& taxon, const SiteAssessment& assessment);

/// The taxon's caution where it is about handling the coral, not about trade in it.
std::string handling_caution(const Taxon& taxon);

}  // namespace bedshade
