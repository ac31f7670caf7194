#include "model/flow/solver/poisson.h"

#include <cmath>

namespace bedshade {
namespace {

using Matrix = Eigen::Map<Eigen::MatrixXd>;

/// Mode k of n cells between closed sides.
void fill_cosine(Eigen::Ref<Eigen::VectorXd> mode, int k) {
    const auto n = static_cast<int>(mode.size());
    for (int i = 0; i < n; ++i) mode[i] = std::cos(kPi * k * (i + 0.5) / n);
}

/// Mode k of a ring of n cells: cosines of (k + 1)/2 waves for odd k and 0, sines for even ones.
void fill_wave(Eigen::Ref<Eigen::VectorXd> mode, int k) {
    const auto n = static_cast<int>(mode.size());
    const int waves = (k + 1) / 2;
    for (int i = 0; i < n; ++i) {
        const double angle = 2.0 * kPi * waves * i / n;
        mode[i] = k == 0 || k % 2 == 1 ? std::cos(angle) : std::sin(angle);
    }
}

double second_difference(double half_angle, double cell_m) {
    const double s = std::sin(half_angle);
    return -4.0 * s * s / (cell_m * cell_m);
}

}  // namespace

PoissonSolver::Axis PoissonSolver::axis(int cells, double cell_m, bool periodic) {
    Axis axis{Eigen::MatrixXd(cells, cells), Eigen::VectorXd(cells)};
    for (int k = 0; k < cells; ++k) {
        if (periodic)
            fill_wave(axis.vectors.col(k), k);
        else
            fill_cosine(axis.vectors.col(k), k);
        axis.vectors.col(k).normalize();
        const int waves = (k + 1) / 2;  // a sine and a cosine share each number of waves
        const double half_angle = periodic ? kPi * waves / cells : 0.5 * kPi * k / cells;
        axis.values[k] = second_difference(half_angle, cell_m);
    }
    return axis;
}

PoissonSolver::PoissonSolver(const StaggeredGrid& grid, const std::array<bool, 3>& periodic)
    : inverse_(static_cast<Eigen::Index>(grid.cell_count())), scratch_(inverse_.size()) {
    for (int a = 0; a < 3; ++a)
        axes_[static_cast<std::size_t>(a)] =
            axis(grid.count(a), grid.cell_m[a], periodic[static_cast<std::size_t>(a)]);
    Eigen::Index mode = 0;
    for_cells(all_cells(grid), [&](const Cells& c) {
        const double value = axes_[0].values[c[0]] + axes_[1].values[c[1]] + axes_[2].values[c[2]];
        inverse_[mode] = mode == 0 ? 0.0 : 1.0 / value;
        ++mode;
    });
}

void PoissonSolver::to_modes(Eigen::VectorXd& values) {
    const Eigen::Index nx = axes_[0].values.size(), ny = axes_[1].values.size(),
                       nz = axes_[2].values.size();
    Matrix(scratch_.data(), nx, ny * nz).noalias() =
        axes_[0].vectors.transpose() * Matrix(values.data(), nx, ny * nz);
    for (Eigen::Index k = 0; k < nz; ++k)
        Matrix(values.data() + k * nx * ny, nx, ny).noalias() =
            Matrix(scratch_.data() + k * nx * ny, nx, ny) * axes_[1].vectors;
    Matrix(scratch_.data(), nx * ny, nz).noalias() =
        Matrix(values.data(), nx * ny, nz) * axes_[2].vectors;
    values.swap(scratch_);
}

void PoissonSolver::from_modes(Eigen::VectorXd& values) {
    const Eigen::Index nx = axes_[0].values.size(), ny = axes_[1].values.size(),
                       nz = axes_[2].values.size();
    Matrix(scratch_.data(), nx * ny, nz).noalias() =
        Matrix(values.data(), nx * ny, nz) * axes_[2].vectors.transpose();
    for (Eigen::Index k = 0; k < nz; ++k)
        Matrix(values.data() + k * nx * ny, nx, ny).noalias() =
            Matrix(scratch_.data() + k * nx * ny, nx, ny) * axes_[1].vectors.transpose();
    Matrix(scratch_.data(), nx, ny * nz).noalias() =
        axes_[0].vectors * Matrix(values.data(), nx, ny * nz);
    values.swap(scratch_);
}

void PoissonSolver::solve(Eigen::VectorXd& values) {
    to_modes(values);
    values.array() *= inverse_.array();
    from_modes(values);
}

}  // namespace bedshade
