// Method of images: specular reflection at the sides of the tank. Reflected light is direct light
// from the same lamp to a mirror image of the receptor.
//
// A path with reflections at the sides is a straight path in a space tiled with mirror images of
// the tank. Cell (i, j) is the image reached after crossing |i| sides along x and |j| along y; (0,
// 0) is the tank itself. Light enters through the real opening only, so under water its horizontal
// distance is at most the depth times the tangent of the critical angle, and few cells matter: none
// is neglected unless the index is nearly 1 (see `kMaxCells`). The first side crossed may be dry
// glass above the water (model/light/dry_rim.h).
#pragma once

#include <algorithm>
#include <array>
#include <cmath>
#include <vector>

#include "model/base/geometry.h"
#include "model/light/image_cell.h"
#include "model/light/refractive_index.h"
#include "model/reef/tank.h"

namespace bedshade {

class MirrorImages {
  public:
    using Cell = ImageCell;

    /// Largest number of sides crossed along an axis. With an index over 1.05 and a tank no deeper
    /// than it is wide no light comes from beyond; otherwise the error is at most the product of
    /// the panes' reflectances over the sides crossed.
    static constexpr int kMaxCells = 6;

    /// `dry_reach_m`: largest distance outside the opening at which light can meet the surface
    /// after reflection by a dry pane.
    MirrorImages(const Tank& tank, double water_index, double dry_reach_m = 0.0);

    /// The cells that light can reach, the tank itself first, then by number of reflections.
    const std::vector<Cell>& cells() const { return cells_; }

    /// The image of a point of the tank in a cell.
    Vec3 image_of(const Vec3& point_m, Cell cell) const {
        return {image(point_m.x(), cell.i, length_m_), image(point_m.y(), cell.j, width_m_),
                point_m.z()};
    }

    /// A direction in an image cell, mirrored back into the tank (and vice versa).
    static Vec3 mirrored_direction(const Vec3& direction, Cell cell) {
        return {cell.i % 2 == 0 ? direction.x() : -direction.x(),
                cell.j % 2 == 0 ? direction.y() : -direction.y(), direction.z()};
    }

    /// Whether light from the surface can reach the image point: its distance outside the opening
    /// is within the limits set by dry panes and by refraction at its depth.
    bool in_reach(const Vec3& image_m, double depth_m) const;

    /// Product of the reflectances of all reflections under water of a path that enters the surface
    /// in cell `dry` and continues to `cell` along this direction in water [1].
    double reflectance(const Vec3& direction, Cell cell, Cell dry = {}) const;

    /// Folds a straight path in image space back into the tank: from `from` along `direction` for
    /// `length_m`, with reflections at the sides. Calls `visit_segment(from, direction, length_m)`
    /// for each segment in order until it returns false; returns whether all were visited.
    template <class Piece>
    bool for_each_segment(Eigen::Vector3f from, Eigen::Vector3f direction, float length_m,
                          Piece visit_segment) const;

  private:
    static double image(double x, int i, double side) {
        return i % 2 == 0 ? i * side + x : (i + 1) * side - x;
    }
    double side_reflectance(double cosine, Side side, int times) const;

    double length_m_, width_m_, water_index_, dry_reach_m_;
    double
        reach_per_depth_;  ///< tangent of the largest angle from the vertical that light can have
    PaneIndices pane_index_;
    std::vector<Cell> cells_;
};

template <class Piece>
bool MirrorImages::for_each_segment(Eigen::Vector3f from, Eigen::Vector3f direction, float length_m,
                                    Piece visit_segment) const {
    const std::array<float, 2> side = {static_cast<float>(length_m_), static_cast<float>(width_m_)};
    for (int reflection = 0; reflection <= 4 * kMaxCells; ++reflection) {
        float to_side = length_m;
        int axis = -1;
        for (int a = 0; a < 2; ++a) {
            if (direction[a] == 0.0F) continue;
            const float plane = direction[a] > 0.0F ? side[static_cast<std::size_t>(a)] : 0.0F;
            const float distance = std::max(0.0F, (plane - from[a]) / direction[a]);
            if (distance < to_side) {
                to_side = distance;
                axis = a;
            }
        }
        if (!visit_segment(from, direction, to_side)) return false;
        if (axis < 0) return true;
        from += to_side * direction;
        from[axis] = direction[axis] > 0.0F ? side[static_cast<std::size_t>(axis)] : 0.0F;
        direction[axis] = -direction[axis];
        length_m -= to_side;
    }
    return true;
}

}  // namespace bedshade
