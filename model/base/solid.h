// A body bounded by triangles, asked along vertical lines: what lies in it, and how high it
// reaches.
#pragma once

#include <array>
#include <cstddef>
#include <optional>
#include <vector>

#include "model/base/geometry.h"

namespace bedshade {

/// A point lies inside when an odd number of triangles lie straight above it (Shimrat 1962, CACM
/// 5:434, in the plane). Which side of a triangle's edge a line passes is worked out from the edge
/// alone, and so alike for the two triangles that share it: over a closed surface no line slips
/// through a seam or counts it twice, wherever it runs. A surface that is open below only, as scans
/// of rock often are, is taken to reach down without end.
class Solid {
  public:
    /// Corners index the vertices. Triangles are filed in square columns seen from above, in memory
    /// linear in their number however they lie.
    Solid(std::vector<Vec3> vertices_m, std::vector<std::array<int, 3>> triangles);

    const std::vector<Vec3>& vertices_m() const { return vertices_m_; }
    const std::vector<std::array<int, 3>>& triangles() const { return triangles_; }
    const Box& bounds() const { return bounds_; }

    bool contains(const Vec3& point_m) const;
    /// Height of its uppermost surface above (x, y) [m], or nothing where it is not.
    std::optional<double> top_m(double x_m, double y_m) const;
    /// Triangles filed in the fullest column: what the slowest question costs.
    std::size_t fullest_column() const;

  private:
    /// Columns that a box covers, first and last each way.
    struct Columns {
        int left, right, front, back;
    };
    void file_triangles();
    std::size_t count_filings() const;
    Columns columns_of(const std::array<int, 3>& triangle) const;
    std::size_t column_number(int i, int j) const;
    std::size_t column_at(double x_m, double y_m) const;
    /// Calls `visit(z_m)` for every triangle on the vertical line through a point over the bounds.
    template <class Visit>
    void cross(double x_m, double y_m, Visit visit) const;
    const Vec3& vertex(int index) const { return vertices_m_[static_cast<std::size_t>(index)]; }

    std::vector<Vec3> vertices_m_;
    std::vector<std::array<int, 3>> triangles_;
    Box bounds_;
    int side_ = 1;  ///< columns each way
    std::vector<std::size_t>
        begin_;               ///< by column: its first place in `filed_`; one more at the end
    std::vector<int> filed_;  ///< triangle numbers, column by column
};

}  // namespace bedshade
