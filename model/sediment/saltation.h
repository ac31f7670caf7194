// Saltation: bed stress, pickup and hop length of the sand in each bed cell, for each pump setting.
//
//   tau = bed_stress_Pa(U, kStressHeight_m)              stress on the grains [Pa]
//   T   = (tau - tau_cr)/tau_cr                          transport stage [1]
//   E   = pickup_kg_m2_s(T)                              pickup [kg m-2 s-1], van Rijn 1984
//   h   = 0.3 d D*^0.7 T^0.5 + (kappa u* z/w)(1 - P/2.5) saltation height [m]
//   L   = U h/w                                          saltation length [m]
//
// U: root mean square speed at height z = kStressHeight_m, reduced by the wakes of corals [m/s];
// u* = sqrt(tau/rho); w: settling velocity (Soulsby 1997); d, D*: grain diameter, dimensionless
// diameter; P = w/(kappa u*): Rouse number. The second term of h is suspension: the height over
// which a steady suspension decreases by a factor e, only for P < 2.5 and continuous at that
// threshold (a guess). The direction is that of the mean flow. Gusts faster than U are neglected.
#pragma once

#include <vector>

#include "model/base/bed_grid.h"
#include "model/flow/flow_field.h"
#include "model/flow/seawater.h"
#include "model/flow/wake.h"
#include "model/reef/rock.h"
#include "model/reef/substrate.h"
#include "model/reef/tank.h"

namespace bedshade {

/// One cell of the bed in one pump setting.
struct CellSaltation {
    bool open = false;                   ///< bare sand at its centre
    double stress_Pa = 0.0;              ///< on the grains
    double pickup_kg_m2_s = 0.0;         ///< 0 where the stress is below the threshold of motion
    double saltation_height_m = 0.0;     ///< h: height that moving grains reach
    double saltation_length_m = 0.0;     ///< L: length of a hop
    Vec2 flow_direction = Vec2::Zero();  ///< unit vector of the mean flow, or 0

    bool moves() const { return pickup_kg_m2_s > 0.0; }
};

/// Every cell [y][x] of the bed in one setting, with the wakes of `corals`.
std::vector<CellSaltation> saltation_on(const BedGrid& grid, const Tank& tank,
                                        const Substrate& substrate, const std::vector<Rock>& rocks,
                                        const FlowField& flow, const std::vector<FlowBody>& corals,
                                        const Seawater& sea, std::size_t setting);

}  // namespace bedshade
