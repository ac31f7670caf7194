// Bounded nonlinear least squares, by Ceres.
#pragma once

#include <Eigen/Core>
#include <functional>

namespace bedshade {

/// Residuals at a point and, where `jacobian` is not null, their derivatives [residual][parameter].
using Residuals = std::function<void(const Eigen::VectorXd& at, Eigen::VectorXd& residual,
                                     Eigen::MatrixXd* jacobian)>;

struct LeastSquaresTask {
    Residuals residuals;
    int count = 0;                     ///< of residuals
    Eigen::VectorXd start, low, high;  ///< parameters: where to begin, and their bounds
    int most_steps = 100;
    double tolerance = 1e-14;  ///< it ends when the sum of squares falls by a smaller share
};

struct LeastSquaresFit {
    Eigen::VectorXd best;
    Eigen::VectorXd residual;  ///< at the best
    Eigen::MatrixXd jacobian;  ///< there
    double sum_of_squares = 0.0;
    Eigen::MatrixXd covariance;  ///< inverse of J'J at the best: of residuals of unit variance
    double condition = 0.0;      ///< of J there: ratio of its singular values, largest to smallest
    bool converged = false;
};

/// Minimises the sum of squared residuals within the bounds (Levenberg 1944, Marquardt 1963, as
/// Ceres does it). Where a combination of parameters moves no residual, `condition` is infinite and
/// the covariance means nothing: give such parameters priors, as residuals of their own.
LeastSquaresFit least_squares(const LeastSquaresTask& task);

/// Derivatives by central differences of `step`, for residuals that are cheap to ask for.
Residuals with_central_differences(
    std::function<void(const Eigen::VectorXd&, Eigen::VectorXd&)> residuals, double step);

}  // namespace bedshade
