// Resuspension and deposition: sand that the pumps pick up from the bed, and where it lands.
//
//   R = A s E min(1, S/E_day)      resuspension rate of a cell in one pump setting [kg/d]
//   D(x) = R (1 - z/h) f(x)        deposition on a receptor at height z [kg m-2 d-1]
//
// A: area of the cell [m2]; E: pickup in the setting (saltation.h); s: fraction of time in the
// setting; E_day: pickup averaged over all settings, so that a pulse resuspends sand that its mean
// flow would not; S: supply of one layer of grains per day [kg m-2 d-1]. The supply limit is a
// guess: the cell stays bare until the bed slumps back; the pickup alone would empty a tank in an
// hour. f: footprint of the landing [1/m2] (footprint.h); h: height of the last hop [m]. Hops reach
// all heights up to h equally, hence the linear decrease.
//
// Sand saltates down the flow from cell to cell while they move, and is deposited in the first cell
// at rest, or at glass or rock. Not modelled: creep, accumulation against colonies, dunes, and
// deepening of the scour.
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

/// Sand resuspended from one cell in one pump setting.
struct ResuspendedSand {
    std::size_t cell = 0;
    std::size_t setting = 0;
    double rate_kg_d = 0.0;
    double saltation_height_m = 0.0;  ///< h: height of its last hop
    Footprint footprint;
    std::vector<double> pump_shares;  ///< in the momentum that lifted it; they sum to 1
};

/// S: largest daily resuspension of a cell, one layer of grains [kg m-2 d-1].
double daily_supply_kg_m2_d(double grain_m, const Substrate& substrate);

/// Resuspended sand of all cells. `motion[setting]` are the cells of that setting.
std::vector<ResuspendedSand> resuspended_sand(
    const BedGrid& grid, const Tank& tank, const Substrate& substrate, const FlowField& flow,
    const std::vector<std::vector<CellSaltation>>& motion);

/// Deposition on a receptor [kg m-2 d-1]; 0 at and above the saltation height.
double deposition_kg_m2_d(const ResuspendedSand& resuspended, const SandReceptor& receptor,
                          const Tank& tank);

}  // namespace bedshade
