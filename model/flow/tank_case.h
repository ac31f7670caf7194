// Flow problem of a tank for the incompressible solver.
#pragma once

#include <vector>

#include "model/flow/solver/solver_case.h"
#include "model/reef/pump.h"
#include "model/reef/rock.h"
#include "model/reef/tank.h"
#include "model/reef/water.h"

namespace bedshade {

/// Input of the flow of a tank.
struct FlowScene {
    Tank tank;
    double grain_m = 0.001;  ///< median grain of the bed
    Water water;
    std::vector<Pump> pumps;
    std::vector<Rock> rocks;
};

/// The volume of the tank's water, from the sand up.
Box water_volume(const Tank& tank);

/// Grid over the tank's water with cells no larger than `largest_cell_m`, at least 4 along each
/// side.
StaggeredGrid tank_grid(const Tank& tank, double largest_cell_m);

/// The running pumps of a scene; `running` is by pump.
std::vector<Pump> running_pumps(const FlowScene& scene, const std::vector<bool>& running);

/// Solver case: smooth glass, grain roughness on the bed, free slip at the surface, smooth solid
/// rock, and a body force for each running pump. Corals are not included (see wake.h).
SolverCase tank_case(const FlowScene& scene, const std::vector<bool>& running,
                     double largest_cell_m);

/// Turnover time of the tank's water with the running pumps, V^(2/3)/sqrt(sum of M/rho) [s]; at
/// least one pump runs.
double turnover_s(const FlowScene& scene, const std::vector<bool>& running);

}  // namespace bedshade
