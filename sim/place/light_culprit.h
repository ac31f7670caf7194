// What blocks the light of a site.
#pragma once

#include "sim/advice/bed_forecast.h"
#include "sim/advice/site_assessment.h"

namespace bedshade {

/// The cause of a light shortage: a colony whose growth took the light, one that
/// took it from the start, a rock, or nobody (the lamps).
struct LightCulprit {
    int colony = -1, rock = -1;
    double share = 0.0;  ///< of the sky that it hides
    bool by_growth = false;
};

/// Of a coral, on the day its light is worst.
LightCulprit light_culprit(const BedForecast& bed, const Candidate& candidate,
                           const SiteAssessment& assessment);

}  // namespace bedshade
