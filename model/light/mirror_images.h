// The tank's sides as mirrors: light that comes off them is light from the same lamp to a mirrored
// receptor.
//
// Unfolding: a path that bounces off the sides is a straight one in a space tiled with mirrored
// tanks. Cell (i, j) is the tank reached after crossing |i| sides along x and |j| along y; (0, 0)
// is the tank itself. Light enters through the real opening only, so under water it can go no
// farther sideways than the water is deep times the tangent of the critical angle, and the cells
// that matter are few: none is left out unless the index is nearly 1 (see `kMostCells`). The first
// side crossed may be dry glass above the water (model/light/dry_rim.h).
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

    /// Cells are followed up to this many sides along an axis. With an index over 1.05 and a tank
    /// no deeper than it is wide nothing lies beyond; else what is left out is at most the product
    /// of the panes' reflectances over the sides crossed.
    static constexpr int kMostCells = 6;

    /// `dry_reach_m`: how far past the opening light can meet the surface after a dry pane.
    MirrorImages(const Tank& tank, double water_index, double dry_reach_m = 0.0);

    /// The cells light can come through, the tank itself first, then by number of bounces.
    const std::vector<Cell>& cells() const { return cells_; }

    /// Where a point of the tank lies in a cell.
    Vec3 image_of(const Vec3& point_m, Cell cell) const {
        return {image(point_m.x(), cell.i, length_m_), image(point_m.y(), cell.j, width_m_),
                point_m.z()};
    }

    /// A direction in a cell as it is in the tank (and the other way round).
    static Vec3 turned(const Vec3& direction, Cell cell) {
        return {cell.i % 2 == 0 ? direction.x() : -direction.x(),
                cell.j % 2 == 0 ? direction.y() : -direction.y(), direction.z()};
    }

    /// Whether light that met the surface can reach the point: it is no farther outside the opening
    /// than dry panes and then refraction at its depth let light go.
    bool in_reach(const Vec3& image_m, double depth_m) const;

    /// Share of light left by all the bounces under water of a path that met the surface in cell
    /// `dry` and goes on to a cell along this direction in water [1].
    double reflectance(const Vec3& direction, Cell cell, Cell dry = {}) const;

    /// The straight pieces of a path that leaves `from` in the tank along `direction` for
    /// `length_m`, as they really run between the sides: calls `piece(from, direction, length_m)`
    /// for each, in order, until it returns false; returns whether it went through them all.
    template <class Piece>
    bool fold(Eigen::Vector3f from, Eigen::Vector3f direction, float length_m, Piece piece) const;

  private:
    static double image(double x, int i, double side) {
        return i % 2 == 0 ? i * side + x : (i + 1) * side - x;
    }
    double bounces_off(double cosine, Side side, int times) const;

    double length_m_, width_m_, water_index_, dry_reach_m_;
    double reach_per_depth_;  ///< tangent of the steepest angle light can have from the vertical
    PaneIndices pane_index_;
    std::vector<Cell> cells_;
};

template <class Piece>
bool MirrorImages::fold(Eigen::Vector3f from, Eigen::Vector3f direction, float length_m,
                        Piece piece) const {
    const std::array<float, 2> side = {static_cast<float>(length_m_), static_cast<float>(width_m_)};
    for (int bounce = 0; bounce <= 4 * kMostCells; ++bounce) {
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
        if (!piece(from, direction, to_side)) return false;
        if (axis < 0) return true;
        from += to_side * direction;
        from[axis] = direction[axis] > 0.0F ? side[static_cast<std::size_t>(axis)] : 0.0F;
        direction[axis] = -direction[axis];
        length_m -= to_side;
    }
    return true;
}

}  // namespace bedshade
