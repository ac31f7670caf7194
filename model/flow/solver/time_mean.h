// The mean of a flow over time, and how much it leaves out.
#pragma once

#include "model/flow/solver/incompressible_solver.h"

namespace bedshade {

class TimeMean {
  public:
    explicit TimeMean(const StaggeredGrid& grid);

    /// Adds the flow as it is now, for a time.
    void add(const IncompressibleSolver& flow, double time_s);

    /// Mean velocity at faces [m/s].
    Velocity velocity_m_s() const;
    /// Root of twice the energy a mass that the mean velocity does not have, by cell [m/s]: of
    /// turbulence that is modelled and of swaying that is not.
    Field fluctuation_speed_m_s() const;

  private:
    StaggeredGrid grid_;
    Velocity sum_m_;
    Field square_sum_m2_s_;  ///< of squared speed and twice the turbulent energy, by cell
    double time_s_ = 0.0;
};

}  // namespace bedshade
