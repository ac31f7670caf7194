// Boundary conditions at the sides of the box, set through ghost cells.
#pragma once

#include "model/flow/solver/solver_case.h"

namespace bedshade {

/// Ghost value beyond a wall with a wall law, relative to the speed beside it: near 1, since the
/// boundary layer is thinner than a cell and advection should not be affected by it.
inline constexpr double kFrictionGhost = 0.9;

class BoundaryConditions {
  public:
    BoundaryConditions(const StaggeredGrid& grid, const std::array<SideCondition, 6>& sides);

    /// Sets the normal velocity on closed and given sides, and the last face of periodic axes.
    void set_side_velocity(Velocity& velocity) const;

    /// Sets the side velocities and fills all ghosts: odd across walls about the wall's velocity,
    /// even across slip sides, so that differences across the side are those at the side.
    void fill(Velocity& velocity) const;

    /// Fills the ghosts of a cell value with zero gradient across sides.
    void fill_zero_gradient(Field& cell_values) const;

    bool periodic(int axis) const {
        return sides_[side_number(axis, false)].kind == SideKind::periodic;
    }

    /// Faces across `axis` on which momentum is solved; those on sides are not included.
    CellRange free_faces(int axis) const;

  private:
    struct Line;
    double value(std::size_t side, int component, std::size_t place) const;
    void store_velocity(std::size_t side);
    void fill_normal(Field& velocity, int axis) const;
    void fill_tangential(Field& velocity, int axis, int component) const;

    StaggeredGrid grid_;
    std::array<SideCondition, 6> sides_;
    /// Velocity components at the points of each side; empty: 0.
    std::array<std::array<Field, 3>, 6> values_;
};

}  // namespace bedshade
