// Time-averaged flow of a tank in one pump setting, solved from rest.
#pragma once

#include <vector>

#include "model/flow/tank_case.h"

namespace bedshade {

/// Time-averaged flow.
struct TankFlow {
    StaggeredGrid grid;
    Velocity velocity_m_s;      ///< at faces
    Field turbulent_speed_m_s;  ///< root mean square of all fluctuations about the mean, by cell
    std::vector<bool> solid;    ///< by cell
};

/// Solves on cells twice as large first, from rest; continues on the grid itself; then averages.
/// Each phase takes a fixed number of turnover times, so that the bits depend only on the
/// arguments. Without a running pump the water is at rest.
TankFlow solve_tank_flow(const FlowScene& scene, const std::vector<bool>& running,
                         double largest_cell_m);

/// Velocity at a point of the water, trilinear between faces in the water [m/s]; beside glass, bed
/// and rock that of the nearest faces. 0 inside rock.
Vec3 velocity_at_m_s(const TankFlow& flow, const Vec3& point_m);

/// The same for the turbulent speed [m/s].
double turbulent_speed_at_m_s(const TankFlow& flow, const Vec3& point_m);

}  // namespace bedshade
