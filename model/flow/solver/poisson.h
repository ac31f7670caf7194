// Direct solver of the Poisson equation for the pressure in a box.
//
// Equal cells make the Laplacian a sum of one-axis operators whose eigenvectors are cosines (closed
// sides) or sines and cosines (periodic ones); in that basis the equation is a division (fast
// diagonalisation: Lynch, Rice & Thomas 1964). The change of basis is one matrix product per axis.
// With 20 to 60 cells per axis this is as fast as a fast Fourier transform, and its bits depend
// only on the build.
#pragma once

#include <Eigen/Core>
#include <array>

#include "model/flow/solver/staggered_grid.h"

namespace bedshade {

class PoissonSolver {
  public:
    /// `periodic` by axis; other axes have no gradient across their sides.
    PoissonSolver(const StaggeredGrid& grid, const std::array<bool, 3>& periodic);

    /// Solves laplace(phi) = source, both over the unpadded cells, x fastest, in place. The mean of
    /// the source is ignored, and that of phi is 0.
    void solve(Eigen::VectorXd& values);

  private:
    /// Eigenvectors (in columns) and eigenvalues of one axis.
    struct Axis {
        Eigen::MatrixXd vectors;
        Eigen::VectorXd values;
    };
    static Axis axis(int cells, double cell_m, bool periodic);
    void to_modes(Eigen::VectorXd& values);
    void from_modes(Eigen::VectorXd& values);

    std::array<Axis, 3> axes_;
    Eigen::VectorXd inverse_;  ///< 1 over the eigenvalue of each mode, 0 for the mean
    Eigen::VectorXd scratch_;
};

}  // namespace bedshade
