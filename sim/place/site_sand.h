// The sand that a coral on a site has to bear.
#pragma once

#include "sim/advice/candidate.h"
#include "sim/advice/site.h"

namespace bedshade {

/// Sand of the run's first weeks, which are like all others.
struct SiteSand {
    double deposition_kg_m2_d = 0.0;  ///< mean, before its shape sheds its share
    double most_kg_m2 = 0.0;          ///< most that lies on it at the end of any day
    double transmittance = 1.0;       ///< of light through the sand, mean [1]
};

/// On the coral as it is set in: later it stands higher, and less reaches it. The load is followed
/// by the forecast's own rule; in a whole run its worst day is somewhat worse.
SiteSand sand_on_site(const BedForecast& bed, const Site& site, const Candidate& candidate);

}  // namespace bedshade
