// What changes the momentum of the water in a box: its own motion and friction.
//
// Both are written as fluxes through the faces of each velocity's own cell, so that what one cell
// loses the next one gains and the box as a whole loses nothing but what its sides take. Motion is
// carried by the third-order upwind interpolation of Leonard 1979 (QUICK): jets are a few cells
// wide, where central differences ring and first-order ones smear. Friction is the full
// nu (dui/dxj + duj/dxi), since eddy viscosity varies.
#pragma once

#include "model/flow/solver/staggered_grid.h"

namespace bedshade {

/// Kinematic viscosity where the fluxes need it [m2/s].
struct Viscosity {
    Field cell;
    std::array<Field, 3> edge;  ///< by the axis the edge runs along, at the lower corner of a cell
};

/// Rate of change of each velocity [m/s2] in `ranges` (the free faces of each axis), pressure and
/// outer forces left out. Ghosts of `velocity` must be filled.
class MomentumRate {
  public:
    explicit MomentumRate(const StaggeredGrid& grid);
    void find(const Velocity& velocity, const Viscosity& viscosity,
              const std::array<CellRange, 3>& ranges, Velocity& rate);

  private:
    void along(const Field& q, const Field& viscosity, const CellRange& range, int axis);
    void across(const Field& q, const Field& carrier, const Field& viscosity,
                const CellRange& range, int component, int axis);
    void subtract_divergence(const CellRange& range, std::ptrdiff_t first, std::ptrdiff_t second,
                             double cell_m, Field& rate) const;

    StaggeredGrid grid_;
    Field flux_;
};

}  // namespace bedshade
