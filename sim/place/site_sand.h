// The sand that falls on a coral at a site.
#pragma once

#include "sim/advice/candidate.h"
#include "sim/advice/site.h"

namespace bedshade {

/// Sand of the first weeks of the run, taken as typical.
struct SiteSand {
    double deposition_kg_m2_d = 0.0;  ///< mean, before its shape sheds its share
    double most_kg_m2 = 0.0;          ///< most that lies on it at the end of any day
    double transmittance = 1.0;       ///< of light through the sand, mean [1]
};

/// For the coral at its initial size: later it is taller, and less sand reaches it. The load
/// follows the forecast's own rule; over a full run its worst day is somewhat worse.
SiteSand sand_on_site(const BedForecast& bed, const Site& site, const Candidate& candidate);

}  // namespace bedshade
