// What the water finds at the sides of the box, told through the ghosts beyond them.
#pragma once

#include "model/flow/solver/solver_case.h"

namespace bedshade {

/// Beyond a wall with a friction law the ghosts hold this share of the speed beside it: near 1,
/// since the boundary layer is thinner than a cell and what the water carries should not feel it.
inline constexpr double kFrictionGhost = 0.9;

class BoundaryConditions {
  public:
    BoundaryConditions(const StaggeredGrid& grid, const std::array<SideCondition, 6>& sides);

    /// Sets the velocity through closed and given sides, and the last face of periodic axes.
    void close(Velocity& velocity) const;

    /// Closes, and fills all ghosts: odd across walls about the wall's own velocity, even across
    /// slip sides, so that differences across the side are those at the side.
    void fill(Velocity& velocity) const;

    /// Fills the ghosts of a cell value that has no gradient across sides.
    void fill_even(Field& cell_values) const;

    bool periodic(int axis) const {
        return sides_[side_number(axis, false)].kind == SideKind::periodic;
    }

    /// Faces across `axis` that the water's momentum decides; those of sides are not among them.
    CellRange free_faces(int axis) const;

  private:
    struct Line;
    double value(std::size_t side, int component, std::size_t place) const;
    void remember(std::size_t side);
    void fill_through(Field& velocity, int axis) const;
    void fill_along(Field& velocity, int axis, int component) const;

    StaggeredGrid grid_;
    std::array<SideCondition, 6> sides_;
    /// Velocity components at the places of each side; empty: 0.
    std::array<std::array<Field, 3>, 6> values_;
};

}  // namespace bedshade
