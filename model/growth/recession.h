// Tissue that withdraws over its skeleton, and tissue that grows back over it.
//
// Living tissue is followed as one disc of the colony's mean radius R: where a share f of the
// surface lives, its edge stands at R sqrt(f). Edges move at a speed, so the results of one step of
// 14 d and of two of 7 d are the same.
#pragma once

namespace bedshade {

/// Live fraction after the edge has withdrawn at `speed_mm_d` for `dt_d` days on a colony of mean
/// radius `radius_m` > 0.
double receded(double live_fraction, double radius_m, double speed_mm_d, double dt_d);

/// Live fraction after tissue has grown back over bare skeleton at the rate at which it extends;
/// what is wholly dead stays dead.
double healed(double live_fraction, double radius_m, double extension_mm_yr, double dt_d);

/// Live fraction after a neighbour's sting: only the `touched` share of the outline withdraws, and
/// no farther than `depth_m` from the edge, where the neighbour no longer reaches.
double stung(double live_fraction, double radius_m, double speed_mm_d, double dt_d, double touched,
             double depth_m);

}  // namespace bedshade
