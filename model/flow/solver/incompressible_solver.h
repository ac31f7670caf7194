// Incompressible flow in a box, from rest or from a start, step by step.
//
// Momentum by Adams & Bashforth's second-order step, pressure by projection with the last step's
// pressure kept (Chorin 1968; Van Kan 1986): second order in time, and a steady state that does not
// know the step it was reached with. Solids hold the water on their faces still; what the
// projection lets through them while the flow changes is gone once it is steady. Bits depend on the
// case and the calls alone.
#pragma once

#include <Eigen/Core>

#include "model/flow/solver/body_force.h"
#include "model/flow/solver/boundary_conditions.h"
#include "model/flow/solver/eddy_viscosity.h"
#include "model/flow/solver/poisson.h"
#include "model/flow/solver/turbulent_energy.h"

namespace bedshade {

/// Everything that a flow on a grid is at one moment.
struct SolverState {
    Velocity velocity_m_s;   ///< at faces
    Field pressure_m2_s2;    ///< over density, by cell
    Field turbulence_m2_s2;  ///< energy a mass, by cell; all 0 where it is not carried
};

enum class CarryTurbulence { no, yes };

class IncompressibleSolver {
  public:
    explicit IncompressibleSolver(const SolverCase& box,
                                  CarryTurbulence turbulence = CarryTurbulence::no);

    const StaggeredGrid& grid() const { return box_.grid; }
    const Velocity& velocity_m_s() const { return velocity_; }
    const Field& pressure_m2_s2() const { return pressure_; }
    /// Energy a mass, by cell; all 0 where turbulence is not carried.
    const Field& turbulence_m2_s2() const { return turbulence_.energy_m2_s2(); }
    /// Cells (ghosts included) that are solid.
    const std::vector<bool>& solid() const { return solid_; }
    const std::vector<GridBodyForce>& body_forces() const { return body_forces_; }

    SolverState state() const;
    /// Starts anew from a state of the same grid; its velocity is made free of divergence.
    void start_from(const SolverState& state);

    /// Largest stable step at today's speeds [s].
    double stable_step_s() const;
    void step(double dt_s);

    /// Largest net outflow of a cell over its volume [1/s].
    double largest_divergence_per_s() const;

  private:
    void find_solid_faces();
    void predict(double dt_s);
    void hold_solids();
    void find_divergence(double scale);
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
