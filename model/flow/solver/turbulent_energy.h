// Turbulent kinetic energy for a given eddy viscosity, by one transport equation.
//
//   dk/dt + u . grad k = div(nu grad k) + nu S^2 - C k^2/nu
//
// k: energy per mass [m2/s2]; nu: eddy viscosity [m2/s]; S: strain rate of the mean flow [1/s];
// C = 0.09: dissipation consistent with nu (the k equation of Launder & Spalding 1974 with nu given
// instead of the length scale; constant from memory).
#pragma once

#include <utility>

#include "model/flow/solver/boundary_conditions.h"
#include "model/flow/solver/momentum.h"

namespace bedshade {

class TurbulentEnergy {
  public:
    TurbulentEnergy(const StaggeredGrid& grid, const std::vector<bool>& solid);

    /// Advances by `dt_s`; the ghosts of `velocity` must be filled.
    void advance(const Velocity& velocity, const Viscosity& viscosity,
                 const BoundaryConditions& sides, double dt_s);

    /// k by cell [m2/s2].
    const Field& energy_m2_s2() const { return energy_; }
    void set_energy_m2_s2(Field energy) { energy_ = std::move(energy); }

  private:
    void add_production(const Velocity& velocity, const Viscosity& viscosity);
    void add_transport(const Velocity& velocity, const Viscosity& viscosity, int axis);

    StaggeredGrid grid_;
    std::vector<double> water_;  ///< 1 in cells of water, 0 in solid ones
    Field energy_, flux_, rate_;
};

}  // namespace bedshade
