// A surrogate model: estimates margins of a coral at other sites from one run without it. Fast, and
// good enough to choose the sites worth a forecast.
#pragma once

#include <vector>

#include "sim/advice/standing_sites.h"
#include "sim/verdict/run_record.h"

namespace bedshade {

/// By site, the worst estimated margin of a coral placed there, on the one scale of
/// sim/verdict/margins.h: of its light at the end of the run against its need there, of the flow
/// at its top, and of its room to every neighbour, which is that neighbour's room too. It and they
/// are taken as upright drums, as wide as they are in the end; `end_diameter_m` is the coral's. The
/// shade it throws, sand, lees, and what food, warmth and flow do to its tissue are left out. Of
/// the days it had, where `go_on` stopped it.
std::vector<double> estimate_margins(const Layout& layout, int colony,
                                     const std::vector<StandingSite>& spots, double end_diameter_m,
                                     const RunOptions& options, const ParallelFor& parallel,
                                     const GoOn& go_on);

}  // namespace bedshade
