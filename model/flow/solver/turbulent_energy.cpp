#include "model/flow/solver/turbulent_energy.h"

#include <algorithm>
#include <cmath>

namespace bedshade {
namespace {

constexpr double kDissipation = 0.09;

std::size_t part(int axis) { return static_cast<std::size_t>(axis); }

/// Advective flux between two cells: the upstream value plus van Leer's (1974) limited slope, which
/// cannot make energy negative.
inline double limited_flux(double carrier, double before, double q0, double q1, double after) {
    const double step = q1 - q0;
    const double behind = carrier > 0.0 ? q0 - before : after - q1;
    const double product = step * behind;
    const double sum = step + behind;
    const double half_step = product > 0.0 ? product / sum : 0.0;
    return carrier * (carrier > 0.0 ? q0 + half_step : q1 - half_step);
}

}  // namespace

TurbulentEnergy::TurbulentEnergy(const StaggeredGrid& grid, const std::vector<bool>& solid)
    : grid_(grid),
      water_(grid.size(), 1.0),
      energy_(grid.size(), 0.0),
      flux_(grid.size(), 0.0),
      rate_(grid.size(), 0.0) {
    for (std::size_t i = 0; i < solid.size(); ++i)
        if (solid[i]) water_[i] = 0.0;
}

/// Production, nu times the squared strain rate; shear from the mean of the four edges around a
/// cell.
void TurbulentEnergy::add_production(const Velocity& velocity, const Viscosity& viscosity) {
    for_cells(all_cells(grid_), [&](const Cells& cell) {
        const std::size_t at = grid_.at(cell);
        double square = 0.0;
        for (int a = 0; a < 3; ++a) {
            const int b = (a + 1) % 3;
            const auto s = static_cast<std::size_t>(grid_.stride(a));
            const auto t = static_cast<std::size_t>(grid_.stride(b));
            const Field &u = velocity[part(a)], &v = velocity[part(b)];
            const double stretch = (u[at + s] - u[at]) / grid_.cell_m[a];
            const double u_over_b = 0.25 * (u[at + t] + u[at + s + t] - u[at - t] - u[at + s - t]);
            const double v_over_a = 0.25 * (v[at + s] + v[at + s + t] - v[at - s] - v[at - s + t]);
            const double shear = u_over_b / grid_.cell_m[b] + v_over_a / grid_.cell_m[a];
            square += 2.0 * stretch * stretch + shear * shear;
        }
        rate_[at] = viscosity.cell[at] * square;
    });
}

void TurbulentEnergy::add_transport(const Velocity& velocity, const Viscosity& viscosity,
                                    int axis) {
    const std::ptrdiff_t s = grid_.stride(axis);
    const double per_m = 1.0 / grid_.cell_m[axis];
    CellRange faces = all_cells(grid_);
    faces.high[part(axis)] += 1;
    for_rows(grid_, faces, [&](std::ptrdiff_t first, std::ptrdiff_t length) {
        const double *u = velocity[part(axis)].data() + first, *k = energy_.data() + first;
        const double *nu = viscosity.cell.data() + first, *water = water_.data() + first;
        for (std::ptrdiff_t i = 0; i < length; ++i) {
            const double open = water[i] * water[i - s];
            flux_[static_cast<std::size_t>(first + i)] =
                open * (limited_flux(u[i], k[i - 2 * s], k[i - s], k[i], k[i + s]) -
                        0.5 * (nu[i] + nu[i - s]) * per_m * (k[i] - k[i - s]));
        }
    });
    for_rows(grid_, all_cells(grid_), [&](std::ptrdiff_t first, std::ptrdiff_t length) {
        const double* flux = flux_.data() + first;
        for (std::ptrdiff_t i = 0; i < length; ++i)
            rate_[static_cast<std::size_t>(first + i)] -= per_m * (flux[i + s] - flux[i]);
    });
}

void TurbulentEnergy::advance(const Velocity& velocity, const Viscosity& viscosity,
                              const BoundaryConditions& sides, double dt_s) {
    sides.fill_zero_gradient(energy_);
    add_production(velocity, viscosity);
    for (int axis = 0; axis < 3; ++axis) add_transport(velocity, viscosity, axis);
    for_rows(grid_, all_cells(grid_), [&](std::ptrdiff_t first, std::ptrdiff_t length) {
        const double* nu = viscosity.cell.data() + first;
        for (std::ptrdiff_t i = 0; i < length; ++i) {
            const auto at = static_cast<std::size_t>(first + i);
            // Dissipation is implicit, which keeps k positive for any step.
            const double gained = std::max(energy_[at] + dt_s * rate_[at], 0.0);
            energy_[at] = water_[at] * gained / (1.0 + dt_s * kDissipation * energy_[at] / nu[i]);
        }
    });
}

}  // namespace bedshade
