// Body force of a pump's jet on the faces of a grid (definition: BodyForce in solver_case.h).
#pragma once

#include "model/flow/solver/solver_case.h"

namespace bedshade {

class GridBodyForce {
  public:
    /// `free` are the faces of each axis on which momentum is solved, except those of `solid`
    /// cells; a body force with weight 0 on all of them does nothing.
    GridBodyForce(const BodyForce& body_force, const StaggeredGrid& grid,
                  const std::array<CellRange, 3>& free, const std::vector<bool>& solid);

    /// Accelerates the water for a step, with exactly the thrust.
    void apply(Velocity& velocity, double dt_s);

    /// Cells per second at the imposed speed [1/s].
    double fastest_per_s() const { return fastest_per_s_; }
    /// Force in the last step along the direction of the jet, over density [m4/s2].
    double force_m4_s2() const { return force_m4_s2_; }
    /// Factor on the imposed shape in the last step [1]; near 1 when shape and thrust agree.
    double scale() const { return scale_; }

  private:
    struct Face {
        std::size_t component, face;
        double shape_m_s, rate_per_s, direction;
    };
    /// Whether the water at a face is slower than the scaled shape.
    static bool lags(const Face& face, double u_m_s, double scale);
    double scale_for_thrust(const Velocity& velocity, double dt_s) const;

    std::vector<Face> faces_;
    double cell_volume_m3_, thrust_m4_s2_;
    double fastest_per_s_ = 0.0;
    double force_m4_s2_ = 0.0, scale_ = 0.0;
};

}  // namespace bedshade
