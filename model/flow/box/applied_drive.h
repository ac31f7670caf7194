// A drive at work on the faces of a grid.
#pragma once

#include "model/flow/box/box_case.h"

namespace bedshade {

class AppliedDrive {
  public:
    /// `free` are the faces of each axis that the water's momentum decides.
    AppliedDrive(const Drive& drive, const BoxGrid& grid, const std::array<CellRange, 3>& free);

    /// Lets the water give way to the target for a step; then scales the target so that the force
    /// comes nearer to the thrust.
    void push(Velocity& velocity, double dt_s);

    /// Force in the last step along the drive's direction, over density [m4/s2].
    double force_m4_s2() const { return force_m4_s2_; }
    /// How far the target is scaled [1].
    double scale() const { return scale_; }
    void set_scale(double scale) { scale_ = scale; }

  private:
    struct Face {
        std::size_t component, face;
        double target_m_s, rate_per_s, direction;
    };

    std::vector<Face> faces_;
    double cell_volume_m3_, thrust_m4_s2_, response_s_;
    double force_m4_s2_ = 0.0, scale_ = 1.0;
};

}  // namespace bedshade
