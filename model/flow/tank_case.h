// A tank's flow problem, for the box solver.
#pragma once

#include <vector>

#include "model/flow/solver/solver_case.h"
#include "model/reef/pump.h"
#include "model/reef/rock.h"
#include "model/reef/tank.h"
#include "model/reef/water.h"

namespace bedshade {

/// What the mean flow of a tank depends on.
struct FlowScene {
    Tank tank;
    double grain_m = 0.001;  ///< median grain of the bed
    Water water;
    std::vector<Pump> pumps;
    std::vector<Rock> rocks;
};

/// The tank's water, from the sand up.
Box water_volume(const Tank& tank);

/// The tank's water cut into cells no larger than `largest_cell_m`, at least 4 along each side.
StaggeredGrid tank_grid(const Tank& tank, double largest_cell_m);

/// The pumps of a scene that run; `running` is by pump.
std::vector<Pump> running_pumps(const FlowScene& scene, const std::vector<bool>& running);

/// Glass is smooth, the bed as rough as its grains, the surface calm, rock smooth and solid. Each
/// pump that runs drives its jet. Corals are not in it.
SolverCase tank_case(const FlowScene& scene, const std::vector<bool>& running,
                     double largest_cell_m);

/// Time in which the running pumps turn the tank's water over, V^(2/3)/sqrt(sum of M/rho) [s]; at
/// least one pump runs.
double turnover_s(const FlowScene& scene, const std::vector<bool>& running);

}  // namespace bedshade
