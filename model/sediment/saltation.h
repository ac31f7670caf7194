// The bed under each setting of the pumps: stress, what moves, how high it hops, where it drifts.
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

/// One cell of the bed while the pumps are set one way.
struct CellSaltation {
    bool open = false;                ///< bare sand at its centre
    double stress_Pa = 0.0;           ///< on the grains
    double pickup_kg_m2_s = 0.0;      ///< 0 where the stress is below the threshold of motion
    double saltation_length_m = 0.0;  ///< height that moving grains reach
    double transport_m = 0.0;         ///< length of a hop
    Vec2 heading = Vec2::Zero();      ///< unit vector of the flow, or 0 where it has none

    bool moves() const { return pickup_kg_m2_s > 0.0; }
};

/// Every cell [y][x] of the bed in one setting, in the lee of the corals that stand there.
///
/// Flow is read at the cell's centre, kStressHeight_m above the sand: its root mean square speed
/// makes the stress, its mean direction the heading. Grains hop to the saltation height of van Rijn
/// 1984; where the Rouse number P is under 2.5 turbulence lifts them further, by
/// (kappa u* z/w)(1 - P/2.5), z = kStressHeight_m: the height over which a steady suspension thins
/// by e, faded in at its threshold (a guess). A hop is the flow's speed times the fall from there.
/// Gusts beyond that speed lift sand too and are not counted.
std::vector<CellSaltation> saltation_on(const BedGrid& grid, const Tank& tank,
                                        const Substrate& substrate, const std::vector<Rock>& rocks,
                                        const FlowField& flow, const std::vector<FlowBody>& corals,
                                        const Seawater& sea, std::size_t setting);

}  // namespace bedshade
