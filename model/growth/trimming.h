// Trimming of a colony.
#pragma once

#include "model/reef/reef.h"
#include "model/reef/taxon.h"

namespace bedshade {

/// Removes everything outside a circle of `diameter_m` around the base. Upright forms lose height
/// in proportion to width; sheets, plates and mats keep theirs. Returns the planar area removed
/// [m2], 0 when nothing extends beyond the circle. The live fraction of the rest is unchanged
/// (common practice, no source: a clean cut heals within weeks).
double trim_to(double diameter_m, Form form, ColonyState& state);

}  // namespace bedshade
