// Staggered (MAC) grid of equal cells, for the flow solver.
//
// Pressure, viscosity and turbulence are at cell centres, each velocity component at the centres of
// the faces normal to it (Harlow & Welch 1965), which conserves mass and avoids decoupled pressure
// modes. Every field has the same padded extents (two ghost layers on each side and one more face),
// so that one stride serves all of them.
#pragma once

#include <array>
#include <cstddef>
#include <vector>

#include "model/base/geometry.h"

namespace bedshade {

/// Values of one quantity on a StaggeredGrid, ghosts included, x fastest.
using Field = std::vector<double>;

/// Velocity component c at the faces across axis c [m/s]; face i of an axis is the lower one of
/// cell i.
using Velocity = std::array<Field, 3>;

using Cells = std::array<int, 3>;

struct StaggeredGrid {
    static constexpr int kGhosts = 2;

    Cells cells{1, 1, 1};
    Vec3 origin_m = Vec3::Zero();  ///< lower corner of cell (0, 0, 0)
    Vec3 cell_m = Vec3::Ones();

    int padded(int axis) const { return cells[static_cast<std::size_t>(axis)] + 2 * kGhosts + 1; }
    std::ptrdiff_t stride(int axis) const {
        return axis == 0   ? 1
               : axis == 1 ? padded(0)
                           : static_cast<std::ptrdiff_t>(padded(0)) * padded(1);
    }
    std::size_t size() const {
        return static_cast<std::size_t>(stride(2)) * static_cast<std::size_t>(padded(2));
    }
    std::ptrdiff_t index(int i, int j, int k) const {
        return i + kGhosts + (j + kGhosts) * stride(1) + (k + kGhosts) * stride(2);
    }
    std::size_t at(const Cells& c) const {
        return static_cast<std::size_t>(index(c[0], c[1], c[2]));
    }
    int count(int axis) const { return cells[static_cast<std::size_t>(axis)]; }
    std::size_t cell_count() const {
        return static_cast<std::size_t>(cells[0]) * static_cast<std::size_t>(cells[1]) *
               static_cast<std::size_t>(cells[2]);
    }
    double cell_volume_m3() const { return cell_m.prod(); }
    Vec3 size_m() const { return cell_m.cwiseProduct(Vec3(cells[0], cells[1], cells[2])); }

    Vec3 cell_centre_m(const Cells& c) const {
        return origin_m + cell_m.cwiseProduct(Vec3(c[0] + 0.5, c[1] + 0.5, c[2] + 0.5));
    }
    Vec3 face_centre_m(int axis, const Cells& c) const {
        Vec3 centre = cell_centre_m(c);
        centre[axis] -= 0.5 * cell_m[axis];
        return centre;
    }
};

/// The cells from `low` (included) to `high` (excluded) on each axis.
struct CellRange {
    Cells low{0, 0, 0}, high{0, 0, 0};
};

inline CellRange all_cells(const StaggeredGrid& grid) { return {{0, 0, 0}, grid.cells}; }

/// Calls `body(first index, cells in the row)` for each row along x of a range.
template <class Body>
void for_rows(const StaggeredGrid& grid, const CellRange& range, const Body& body) {
    const std::ptrdiff_t length = range.high[0] - range.low[0];
    for (int k = range.low[2]; k < range.high[2]; ++k)
        for (int j = range.low[1]; j < range.high[1]; ++j)
            body(grid.index(range.low[0], j, k), length);
}

/// Calls `body(cell)` for each cell of a range, x fastest.
template <class Body>
void for_cells(const CellRange& range, const Body& body) {
    for (int k = range.low[2]; k < range.high[2]; ++k)
        for (int j = range.low[1]; j < range.high[1]; ++j)
            for (int i = range.low[0]; i < range.high[0]; ++i) body(Cells{i, j, k});
}

}  // namespace bedshade
