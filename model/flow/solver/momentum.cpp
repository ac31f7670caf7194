#include "model/flow/solver/momentum.h"

#include <cmath>

namespace bedshade {
namespace {

std::size_t part(int axis) { return static_cast<std::size_t>(axis); }

/// QUICK flux between q0 and q1: carrier times their mean less an eighth of the upstream curvature.
inline double quick_flux(double carrier, double before, double q0, double q1, double after) {
    const double forth = 0.5 * (carrier + std::abs(carrier)), back = carrier - forth;
    return 0.5 * carrier * (q0 + q1) -
           0.125 * (forth * (before - 2.0 * q0 + q1) + back * (q0 - 2.0 * q1 + after));
}

}  // namespace

MomentumRate::MomentumRate(const StaggeredGrid& grid) : grid_(grid), flux_(grid.size(), 0.0) {}

/// Fluxes of a velocity along its own axis, in the middle of cells.
void MomentumRate::normal_fluxes(const Field& q, const Field& viscosity, const CellRange& range,
                                 int axis) {
    const std::ptrdiff_t s = grid_.stride(axis);
    const double per_cell = 2.0 / grid_.cell_m[axis];
    CellRange cells = range;
    cells.low[part(axis)] -= 1;
    for_rows(grid_, cells, [&](std::ptrdiff_t first, std::ptrdiff_t length) {
        const double* u = q.data() + first;
        const double* nu = viscosity.data() + first;
        double* flux = flux_.data() + first;
        for (std::ptrdiff_t i = 0; i < length; ++i)
            flux[i] = quick_flux(0.5 * (u[i] + u[i + s]), u[i - s], u[i], u[i + s], u[i + 2 * s]) -
                      per_cell * nu[i] * (u[i + s] - u[i]);
    });
}

/// Fluxes of a velocity along another axis, at the edges between its faces.
void MomentumRate::cross_fluxes(const Field& q, const Field& carrier, const Field& viscosity,
                                const CellRange& range, int component, int axis) {
    const std::ptrdiff_t s = grid_.stride(axis), c = grid_.stride(component);
    const double per_s = 1.0 / grid_.cell_m[axis], per_c = 1.0 / grid_.cell_m[component];
    CellRange edges = range;
    edges.high[part(axis)] += 1;
    for_rows(grid_, edges, [&](std::ptrdiff_t first, std::ptrdiff_t length) {
        const double* u = q.data() + first;
        const double* w = carrier.data() + first;
        const double* nu = viscosity.data() + first;
        double* flux = flux_.data() + first;
        for (std::ptrdiff_t i = 0; i < length; ++i)
            flux[i] = quick_flux(0.5 * (w[i] + w[i - c]), u[i - 2 * s], u[i - s], u[i], u[i + s]) -
                      nu[i] * (per_s * (u[i] - u[i - s]) + per_c * (w[i] - w[i - c]));
    });
}

/// Subtracts (flux at `second` - flux at `first`) / cell from the rate, both as offsets from a
/// face.
void MomentumRate::subtract_divergence(const CellRange& range, std::ptrdiff_t first,
                                       std::ptrdiff_t second, double cell_m, Field& rate) const {
    const double per_m = 1.0 / cell_m;
    for_rows(grid_, range, [&](std::ptrdiff_t at, std::ptrdiff_t length) {
        const double* flux = flux_.data() + at;
        double* out = rate.data() + at;
        for (std::ptrdiff_t i = 0; i < length; ++i)
            out[i] -= per_m * (flux[i + second] - flux[i + first]);
    });
}

void MomentumRate::compute(const Velocity& velocity, const Viscosity& viscosity,
                           const std::array<CellRange, 3>& ranges, Velocity& rate) {
    for (int c = 0; c < 3; ++c) {
        const CellRange& range = ranges[part(c)];
        const Field& q = velocity[part(c)];
        rate[part(c)].assign(grid_.size(), 0.0);
        for (int d = 0; d < 3; ++d) {
            const std::ptrdiff_t s = grid_.stride(d);
            if (d == c)
                normal_fluxes(q, viscosity.cell, range, c);
            else
                cross_fluxes(q, velocity[part(d)], viscosity.edge[part(3 - c - d)], range, c, d);
            subtract_divergence(range, d == c ? -s : 0, d == c ? 0 : s, grid_.cell_m[d],
                                rate[part(c)]);
        }
    }
}

}  // namespace bedshade
