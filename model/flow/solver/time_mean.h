// Time mean of a flow and root mean square of its fluctuations.
#pragma once

#include "model/flow/solver/incompressible_solver.h"

namespace bedshade {

class TimeMean {
  public:
    explicit TimeMean(const StaggeredGrid& grid);

    /// Adds the current flow with weight `time_s`.
    void add(const IncompressibleSolver& flow, double time_s);

    /// Mean velocity at faces [m/s].
    Velocity velocity_m_s() const;
    /// Root of twice the kinetic energy per mass that is not in the mean velocity, by cell [m/s]:
    /// modelled turbulence and resolved fluctuations.
    Field fluctuation_speed_m_s() const;

  private:
    StaggeredGrid grid_;
    Velocity sum_m_;
    Field square_sum_m2_s_;  ///< of squared speed and twice the turbulent energy, by cell
    double time_s_ = 0.0;
};

}  // namespace bedshade
