// A drive at work on the faces of a grid.
#pragma once

#include "model/flow/solver/solver_case.h"

namespace bedshade {

class GridBodyForce {
  public:
    /// `free` are the faces of each axis that the water's momentum decides, less those of `solid`
    /// cells; a drive whose weight is 0 on all of them does nothing.
    GridBodyForce(const BodyForce& body_force, const StaggeredGrid& grid,
                  const std::array<CellRange, 3>& free, const std::vector<bool>& solid);

    /// Pushes the water for a step, with the thrust exactly.
    void push(Velocity& velocity, double dt_s);

    /// Cells a second that water passes once it has the drive's shape [1/s].
    double fastest_per_s() const { return fastest_per_s_; }
    /// Force in the last step along the drive's direction, over density [m4/s2].
    double force_m4_s2() const { return force_m4_s2_; }
    /// Times its shape the flow is driven toward [1]; near 1 where shape and thrust agree.
    double scale() const { return scale_; }

  private:
    struct Face {
        std::size_t component, face;
        double shape_m_s, rate_per_s, direction;
    };
    /// Whether the water of a face is behind the shape.
    static bool pushed(const Face& face, double u_m_s, double scale);
    double scale_for_thrust(const Velocity& velocity, double dt_s) const;

    std::vector<Face> faces_;
    double cell_volume_m3_, thrust_m4_s2_;
    double fastest_per_s_ = 0.0;
    double force_m4_s2_ = 0.0, scale_ = 0.0;
};

}  // namespace bedshade
