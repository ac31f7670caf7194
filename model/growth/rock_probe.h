// Rock queries for growth: inside test and top, with a bounding box test first.
#pragma once

#include <optional>

#include "model/base/geometry.h"
#include "model/reef/rock.h"

namespace bedshade {

class RockProbe {
  public:
    /// Keeps a reference to `rock`.
    explicit RockProbe(const Rock& rock);

    const Box& bounds() const { return bounds_; }
    /// Whether a point lies in the rock.
    bool inside(const Vec3& point_m) const;
    /// Height of its upper surface above (x, y) [m], or none outside the rock.
    std::optional<double> top_at(double x_m, double y_m) const;

  private:
    const Rock& rock_;
    Box bounds_;
};

}  // namespace bedshade
