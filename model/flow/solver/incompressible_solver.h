// Incompressible Navier-Stokes solver in a box, from rest or from a given state.
//
// Momentum by the second-order Adams-Bashforth method, pressure by incremental projection (Chorin
// 1968; Van Kan 1986): second order in time, and a steady state independent of the step. Velocity
// on faces of solids is set to 0 before the projection; the flow that the projection leaves through
// them vanishes in the steady state. Bits depend only on the case and the calls.
#pragma once

#include <Eigen/Core>

#include "model/flow/solver/body_force.h"
#include "model/flow/solver/boundary_conditions.h"
#include "model/flow/solver/eddy_viscosity.h"
#include "model/flow/solver/poisson.h"
#include "model/flow/solver/turbulent_energy.h"

namespace bedshade {

/// State of a flow on a grid.
struct SolverState {
    Velocity velocity_m_s;   ///< at faces
    Field pressure_m2_s2;    ///< over density, by cell
    Field turbulence_m2_s2;  ///< energy per mass, by cell; all 0 without turbulence
};

enum class CarryTurbulence { no, yes };

class IncompressibleSolver {
  public:
    explicit IncompressibleSolver(const SolverCase& box,
                                  CarryTurbulence turbulence = CarryTurbulence::no);

    const StaggeredGrid& grid() const { return box_.grid; }
    const Velocity& velocity_m_s() const { return velocity_; }
    const Field& pressure_m2_s2() const { return pressure_; }
    /// Energy per mass, by cell; all 0 without turbulence.
    const Field& turbulence_m2_s2() const { return turbulence_.energy_m2_s2(); }
    /// Cells (ghosts included) that are solid.
    const std::vector<bool>& solid() const { return solid_; }
    const std::vector<GridBodyForce>& body_forces() const { return body_forces_; }

    SolverState state() const;
    /// Starts from a state on the same grid; its velocity is projected to zero divergence.
    void start_from(const SolverState& state);

    /// Largest stable step at current speeds [s].
    double stable_step_s() const;
    void step(double dt_s);

    /// Largest net outflow of a cell over its volume [1/s].
    double largest_divergence_per_s() const;

  private:
    void find_solid_faces();
    void predict(double dt_s);
    void zero_solid_faces();
    void compute_divergence(double scale);
    void project(double dt_s);
    void subtract_gradient(double dt_s);

    SolverCase box_;
    BoundaryConditions sides_;
    std::vector<bool> solid_;
    EddyViscosity eddy_viscosity_;
    MomentumRate momentum_;
    PoissonSolver poisson_;
    TurbulentEnergy turbulence_;
    CarryTurbulence carry_turbulence_;
    std::array<CellRange, 3> free_;
    std::array<std::vector<std::size_t>, 3> solid_faces_;
    std::vector<GridBodyForce> body_forces_;
    Velocity velocity_, rate_, last_rate_;
    Field pressure_, potential_;
    Eigen::VectorXd packed_;  ///< by cell without ghosts, for the Poisson solver
    double last_dt_s_ = 0.0;  ///< 0: no step yet
};

}  // namespace bedshade
