#include "model/light/refractive_index.h"

#include <cmath>

namespace bedshade {

double seawater_refractive_index(double temperature_C, double salinity_g_kg, double wavelength_nm) {
    const double t = temperature_C;
    const double s = salinity_g_kg;
    const double per_nm = 1.0 / wavelength_nm;
    const double dissolved = (1.779e-4 - 1.05e-6 * t + 1.6e-8 * t * t) * s;
    const double dispersion =
        (15.868 + 0.01155 * s - 0.00423 * t + (-4382.0 + 1.1455e6 * per_nm) * per_nm) * per_nm;
    return 1.31405 + dissolved - 2.02e-6 * t * t + dispersion;
}

double refractive_index(const Water& water, double wavelength_nm) {
    if (water.refractive_index) return *water.refractive_index;
    return seawater_refractive_index(water.temperature_C, water.salinity_g_kg, wavelength_nm);
}

double float_glass_refractive_index(double wavelength_nm) {
    const double um2 = wavelength_nm * wavelength_nm * 1e-6;
    return 1.5130 - 0.003169 * um2 + 0.003962 / um2;
}

double acrylic_refractive_index(double wavelength_nm) {
    const double um2 = wavelength_nm * wavelength_nm * 1e-6;
    return std::sqrt(1.0 + 1.1819 * um2 / (um2 - 0.011313));
}

std::optional<double> pane_index(const Wall& wall) {
    if (wall.kind == WallKind::glass) return float_glass_refractive_index(kPpfdIndexNm);
    if (wall.kind == WallKind::acrylic) return acrylic_refractive_index(kPpfdIndexNm);
    return std::nullopt;
}

PaneIndices pane_indices(const Tank& tank) {
    PaneIndices indices;
    for (std::size_t side = 0; side < indices.size(); ++side)
        indices[side] = pane_index(tank.walls[side]);
    return indices;
}

}  // namespace bedshade
