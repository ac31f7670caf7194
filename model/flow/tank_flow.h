// The flow of a tank while its pumps are set one way, solved from rest.
#pragma once

#include <vector>

#include "model/flow/tank_case.h"

namespace bedshade {

/// Flow averaged over the time its jets waver.
struct TankFlow {
    StaggeredGrid grid;
    Velocity velocity_m_s;      ///< at faces
    Field turbulent_speed_m_s;  ///< root mean square of all that the mean leaves out, by cell
    std::vector<bool> solid;    ///< by cell
};

/// Solves on cells twice as large first, from rest, and goes on from there on the grid itself; then
/// averages. All three take a fixed number of turnovers, so that the bits depend on the arguments
/// alone. Without a pump that runs the water is still.
TankFlow solve_tank_flow(const FlowScene& scene, const std::vector<bool>& running,
                         double largest_cell_m);

/// Velocity at a point of the water, by straight lines between faces in the water [m/s]; beside
/// glass, bed and rock it is that of the nearest faces. 0 inside rock.
Vec3 velocity_at_m_s(const TankFlow& flow, const Vec3& point_m);

/// The same for the turbulent speed [m/s].
double turbulent_speed_at_m_s(const TankFlow& flow, const Vec3& point_m);

}  // namespace bedshade
