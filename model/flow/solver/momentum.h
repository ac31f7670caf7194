// Momentum equation: advection and viscous stress.
//
//     du_i/dt = -d(u_j u_i)/dx_j + d/dx_j [nu (du_i/dx_j + du_j/dx_i)]
//
// Both terms are fluxes through the faces of the control volume of each velocity component, so that
// momentum is conserved. Advection uses the third-order upwind interpolation of Leonard 1979
// (QUICK): jets are a few cells wide, where central differences oscillate and first-order ones are
// diffusive. The viscous stress is complete, since the eddy viscosity varies.
#pragma once

#include "model/flow/solver/staggered_grid.h"

namespace bedshade {

/// Kinematic viscosity at cells and edges [m2/s].
struct Viscosity {
    Field cell;
    std::array<Field, 3> edge;  ///< by the axis the edge runs along, at the lower corner of a cell
};

/// Rate of change of each velocity [m/s2] in `ranges` (the free faces of each axis), without
/// pressure and body forces. Ghosts of `velocity` must be filled.
class MomentumRate {
  public:
    explicit MomentumRate(const StaggeredGrid& grid);
    void compute(const Velocity& velocity, const Viscosity& viscosity,
                 const std::array<CellRange, 3>& ranges, Velocity& rate);

  private:
    void normal_fluxes(const Field& q, const Field& viscosity, const CellRange& range, int axis);
    void cross_fluxes(const Field& q, const Field& carrier, const Field& viscosity,
                      const CellRange& range, int component, int axis);
    void subtract_divergence(const CellRange& range, std::ptrdiff_t first, std::ptrdiff_t second,
                             double cell_m, Field& rate) const;

    StaggeredGrid grid_;
    Field flux_;
};

}  // namespace bedshade
