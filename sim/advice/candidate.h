// A coral that might be set on the bed: its kind, the size it is set in at, and what of it does not
// depend on the site.
#pragma once

#include <optional>

#include "model/reef/colony.h"
#include "model/reef/taxon.h"

namespace bedshade {

struct Candidate {
    Taxon taxon;
    double diameter_m = 0.0, height_m = 0.0;  ///< when it is set in
    double full_growth_net = 0.0;             ///< full_growth_net_carbon of the taxon
    double light_height = 0.5;  ///< mean height of its live surface as a share of its own [1]
};

/// A usual cutting or head of its form (common practice, no source), or one of `diameter_m`; never
/// more than the kind grows to.
Candidate candidate_of(const Taxon& taxon, std::optional<double> diameter_m = std::nullopt);

/// The row of a layout that sets the candidate on the sand at a site; `taxon` is its index there.
Colony colony_of(const Candidate& candidate, int taxon, const Vec2& site_m);

}  // namespace bedshade
