// Rock as something that growth runs into: inside and top, quick for meshes too.
#pragma once

#include <optional>
#include <vector>

#include "model/base/geometry.h"
#include "model/reef/rock.h"

namespace bedshade {

class RockProbe {
  public:
    /// Keeps a reference to `rock`.
    explicit RockProbe(const Rock& rock);

    const Box& bounds() const { return bounds_; }
    /// Whether a point lies in the rock; in a mesh, whether an odd number of its triangles lie
    /// straight above the point, which holds for closed meshes.
    bool inside(const Vec3& point_m) const;
    /// Height of its upper surface above (x, y) [m], or nothing where the rock is not.
    std::optional<double> top_at(double x_m, double y_m) const;

  private:
    void index_mesh(const RockMesh& mesh);
    /// Numbers of a mesh's triangles whose box from above holds the spot's cell.
    const std::vector<int>& triangles_at(double x_m, double y_m) const;
    std::optional<double> crossing_m(int triangle, double x_m, double y_m) const;

    const Rock& rock_;
    const RockMesh* mesh_ = nullptr;
    Box bounds_;
    std::vector<std::vector<int>> cell_;  ///< triangle numbers by cell, of a mesh
};

}  // namespace bedshade
