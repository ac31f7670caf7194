// Grid of cells over the bed, shared by light, sediment and reports.
#pragma once

#include <algorithm>
#include <cstddef>

namespace bedshade {

/// Cell centres from the front left corner. Values by cell are stored [y][x], row-major.
struct BedGrid {
    int nx = 0, ny = 0;
    double cell_x_m = 0.0, cell_y_m = 0.0;

    double x_m(int i) const { return (i + 0.5) * cell_x_m; }
    double y_m(int j) const { return (j + 0.5) * cell_y_m; }
    double cell_area_m2() const { return cell_x_m * cell_y_m; }
    std::size_t size() const { return static_cast<std::size_t>(nx) * static_cast<std::size_t>(ny); }
    std::size_t index(int i, int j) const {
        return static_cast<std::size_t>(j) * static_cast<std::size_t>(nx) +
               static_cast<std::size_t>(i);
    }
    /// Column and row of a point; points outside belong to the nearest cell.
    int column_at(double x_at_m) const {
        return std::clamp(static_cast<int>(x_at_m / cell_x_m), 0, nx - 1);
    }
    int row_at(double y_at_m) const {
        return std::clamp(static_cast<int>(y_at_m / cell_y_m), 0, ny - 1);
    }
};

}  // namespace bedshade
