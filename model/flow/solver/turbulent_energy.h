// Kinetic energy of the turbulence that a mean flow with a known eddy viscosity carries.
//
// One transport equation: made by the mean flow's shear, carried and spread by it, lost to heat at
// C k^2/nu, C = 0.09, the rate that goes with nu as eddy viscosity (the k equation of Launder &
// Spalding 1974 with nu given in place of the length; constant from memory).
#pragma once

#include <utility>

#include "model/flow/solver/boundary_conditions.h"
#include "model/flow/solver/momentum.h"

namespace bedshade {

class TurbulentEnergy {
  public:
    TurbulentEnergy(const StaggeredGrid& grid, const std::vector<bool>& solid);

    /// Moves on by `dt_s` in a flow whose ghosts are filled.
    void advance(const Velocity& velocity, const Viscosity& viscosity,
                 const BoundaryConditions& sides, double dt_s);

    /// Energy a mass [m2/s2], by cell.
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
