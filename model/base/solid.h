// A solid bounded by triangles: point inclusion and height along vertical lines.
#pragma once

#include <array>
#include <cstddef>
#include <optional>
#include <vector>

#include "model/base/geometry.h"

namespace bedshade {

/// A point lies inside when an odd number of triangles lie straight above it (Shimrat 1962, CACM
/// 5:434, in the plane). The side of an edge on which a line passes is computed from the edge
/// alone, so it is consistent for the two triangles that share it: on a closed surface no line
/// passes through a seam or counts it twice. A surface that is open below only, as scans of rock
/// often are, is treated as infinitely deep.
class Solid {
  public:
    /// Corners index the vertices. Triangles are indexed in square columns in plan view; memory is
    /// linear in their number.
    Solid(std::vector<Vec3> vertices_m, std::vector<std::array<int, 3>> triangles);

    const std::vector<Vec3>& vertices_m() const { return vertices_m_; }
    const std::vector<std::array<int, 3>>& triangles() const { return triangles_; }
    const Box& bounds() const { return bounds_; }

    bool contains(const Vec3& point_m) const;
    /// Height of its uppermost surface above (x, y) [m], or none outside it.
    std::optional<double> top_m(double x_m, double y_m) const;
    /// Number of triangles in the fullest column: the cost of the slowest query.
    std::size_t fullest_column() const;

  private:
    /// Columns that a box covers, first and last along each axis.
    struct Columns {
        int left, right, front, back;
    };
    void bin_triangles();
    std::size_t count_entries() const;
    Columns columns_of(const std::array<int, 3>& triangle) const;
    std::size_t column_number(int i, int j) const;
    std::size_t column_at(double x_m, double y_m) const;
    /// Calls `visit(z_m)` for every triangle on the vertical line through a point over the bounds.
    template <class Visit>
    void for_each_crossing(double x_m, double y_m, Visit visit) const;
    const Vec3& vertex(int index) const { return vertices_m_[static_cast<std::size_t>(index)]; }

    std::vector<Vec3> vertices_m_;
    std::vector<std::array<int, 3>> triangles_;
    Box bounds_;
    int side_ = 1;  ///< columns along each axis
    std::vector<std::size_t>
        begin_;                ///< by column: its first place in `binned_`; one more at the end
    std::vector<int> binned_;  ///< triangle numbers, column by column
};

}  // namespace bedshade
