#include "model/light/diffuse_smoothing.h"

#include <algorithm>
#include <cstdlib>

#include "model/base/geometry.h"

namespace bedshade {

void smooth_bed(const BedGrid& grid, std::span<const double> open, std::size_t lamps,
                std::vector<double>& light) {
    // Beyond the bed's edge lies its mirror image about the outermost row.
    const auto mirrored = [](int i, int n) {
        return n == 1 ? 0 : i < 0 ? -i : i >= n ? 2 * n - 2 - i : i;
    };
    const std::vector<double> rough = light;
    std::vector<double> sum(lamps);
    for (int j = 0; j < grid.ny; ++j)
        for (int i = 0; i < grid.nx; ++i) {
            const std::size_t here = grid.index(i, j);
            std::fill(sum.begin(), sum.end(), 0.0);
            double weights = 0.0;
            for (int dj = -1; dj <= 1; ++dj)
                for (int di = -1; di <= 1; ++di) {
                    const std::size_t cell =
                        grid.index(mirrored(i + di, grid.nx), mirrored(j + dj, grid.ny));
                    const double weight = (2 - std::abs(di)) * (2 - std::abs(dj));
                    weights += weight * open[cell];
                    for (std::size_t l = 0; l < lamps; ++l)
                        sum[l] += weight * rough[cell * lamps + l];
                }
            for (std::size_t l = 0; l < lamps; ++l)
                light[here * lamps + l] = weights > 0.0 ? open[here] * sum[l] / weights : 0.0;
        }
}

void smooth_rings(std::size_t lamps, int sharing, std::vector<double>& light) {
    const std::size_t patches = light.size() / std::max<std::size_t>(1, lamps);
    if (patches % kSectors != 0) return;
    const std::vector<double> rough = light;
    for (std::size_t ring = 0; ring < patches; ring += kSectors)
        for (std::size_t s = 0; s < kSectors; ++s)
            for (std::size_t l = 0; l < lamps; ++l) {
                double sum = 0.0;
                for (int d = -sharing / 2; d <= sharing / 2; ++d) {
                    const std::size_t other =
                        (s + static_cast<std::size_t>(kSectors + d)) % kSectors;
                    const double weight = std::abs(d) == sharing / 2 ? 0.5 : 1.0;
                    sum += weight * rough[(ring + other) * lamps + l];
                }
                light[(ring + s) * lamps + l] = sum / sharing;
            }
}

}  // namespace bedshade
