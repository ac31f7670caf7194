// Tissue recession and healing: loss of live tissue at the edge of a colony, and regrowth over bare
// skeleton.
//
//   f(t) = (sqrt(f0) + v t/R)^2,  limited to [0, 1]
//
// f: live fraction of the surface [1]; R: mean radius of the colony [m]; v: speed of the tissue
// edge [m/d], negative for recession (Taxon::recession_mm_d, stings of neighbours), positive for
// healing (the extension rate). The live tissue is a disc of radius R sqrt(f) whose edge moves at
// speed v, so one step of 14 d gives the same result as two of 7 d. The disc is an assumption, no
// source.
#pragma once

namespace bedshade {

/// Live fraction after recession at `speed_mm_d` for `dt_d` days on a colony of mean radius
/// `radius_m` > 0.
double receded(double live_fraction, double radius_m, double speed_mm_d, double dt_d);

/// Live fraction after healing at the extension rate; a dead colony stays dead.
double healed(double live_fraction, double radius_m, double extension_mm_yr, double dt_d);

/// Live fraction after stings of a neighbour: only the `touched` fraction of the outline recedes,
/// at most by `depth_m`, the reach of the neighbour.
double stung(double live_fraction, double radius_m, double speed_mm_d, double dt_d, double touched,
             double depth_m);

}  // namespace bedshade
