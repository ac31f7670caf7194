// Cutting a colony back.
#pragma once

#include "model/reef/reef.h"
#include "model/reef/taxon.h"

namespace bedshade {

/// Cuts whatever reaches past a circle of `diameter_m` about the base. Upright forms lose height in
/// the same proportion as width; sheets, plates and mats keep theirs. Returns the planar area taken
/// away [m2], 0 when nothing reached so far. What share of the rest lives stays as it was (common
/// practice, no source: a clean cut heals within weeks).
double trim_to(double diameter_m, Form form, ColonyState& state);

}  // namespace bedshade
