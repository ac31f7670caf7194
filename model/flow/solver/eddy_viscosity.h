// Eddy viscosity on the grid: from the case in the interior, from the wall law beside walls and
// solids.
#pragma once

#include "model/flow/solver/boundary_conditions.h"
#include "model/flow/solver/momentum.h"
#include "model/flow/solver/solver_case.h"

namespace bedshade {

/// Cells (ghosts included) that are solid.
std::vector<bool> solid_cells(const SolverCase& box);

class EddyViscosity {
  public:
    EddyViscosity(const SolverCase& box, const BoundaryConditions& sides,
                  const std::vector<bool>& solid);
    EddyViscosity(const EddyViscosity&) = delete;
    EddyViscosity& operator=(const EddyViscosity&) = delete;

    const Viscosity& viscosity() const { return viscosity_; }

    /// Sets the viscosity at walls so that it gives the stress of the wall law at the current
    /// speed. Ghosts of `velocity` must be filled.
    void update_walls(const Velocity& velocity);

  private:
    /// An edge on a wall across `normal`: `component` is the velocity along the wall and across the
    /// edge; its face nearest to the wall is `beside`, half a cell away.
    struct WallEdge {
        int component, normal;
        std::size_t edge;
        std::size_t beside;
        double scale_m;  ///< viscosity over friction: the distance of the velocity difference
        const WallLaw* law;
    };

    void average_to_edges();
    void add_side(const BoundaryConditions& sides, int axis, bool upper);
    void add_solids(const BoundaryConditions& sides, const std::vector<bool>& solid);
    double speed_along_m_s(const Velocity& velocity, const WallEdge& wall) const;

    SolverCase box_;
    Viscosity viscosity_;
    std::vector<WallEdge> walls_;
};

}  // namespace bedshade
