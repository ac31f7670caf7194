// Sand that pumps lift off the bed, and where it comes to rest.
//
// A cell whose stress exceeds the threshold of its grains throws sand: van Rijn's pickup, weighted
// over the settings of the pumps by the time they last (so that a pulse lifts sand that its mean
// would not), but no more than one layer of grains a day. After that the spot is bare until the bed
// slumps back into it: a guess, for the pickup alone would empty any tank in an hour.
// Thrown sand hops down the flow, from cell to cell while they move, and comes to rest in the first
// cell that does not, or against glass or rock. Not in it: creep and banking-up against colonies,
// dunes, the deepening of the scour itself.
#pragma once

#include <cstddef>
#include <vector>

#include "model/base/bed_grid.h"
#include "model/flow/flow_field.h"
#include "model/reef/substrate.h"
#include "model/reef/tank.h"
#include "model/sediment/footprint.h"
#include "model/sediment/saltation.h"
#include "model/sediment/sand_receptor.h"

namespace bedshade {

/// The sand of one cell in one setting of the pumps.
struct ResuspendedSand {
    std::size_t cell = 0;
    std::size_t setting = 0;
    double rate_kg_d = 0.0;
    double saltation_length_m = 0.0;  ///< height of its last hop
    Footprint lands;
    std::vector<double> pump_shares;  ///< in what lifted it; they add up to 1
};

/// Most that a cell throws in a day: one layer of grains [kg m-2 d-1].
double daily_supply_kg_m2_d(double grain_m, const Substrate& substrate);

/// All sand thrown by all cells. `motion[setting]` are the cells of that setting.
std::vector<ResuspendedSand> resuspended_sand(
    const BedGrid& grid, const Tank& tank, const Substrate& substrate, const FlowField& flow,
    const std::vector<std::vector<CellSaltation>>& motion);

/// What lands on a receptor [kg m-2 d-1]. Hops reach all heights up to their top alike, so what
/// falls on tissue fades linearly from all of it on the bed to none at the hop's height.
double deposition_kg_m2_d(const ResuspendedSand& resuspended, const SandReceptor& receptor,
                          const Tank& tank);

}  // namespace bedshade
