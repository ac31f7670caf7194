#include "sim/fit/least_squares.h"

#include <Eigen/SVD>
#include <ceres/ceres.h>
#include <limits>

namespace bedshade {
namespace {

using RowMajor = Eigen::Matrix<double, Eigen::Dynamic, Eigen::Dynamic, Eigen::RowMajor>;

/// One block of parameters, all residuals.
class Cost final : public ceres::CostFunction {
  public:
    explicit Cost(const LeastSquaresTask& task) : task_(task) {
        set_num_residuals(task.count);
        mutable_parameter_block_sizes()->push_back(static_cast<int>(task.start.size()));
    }

    bool Evaluate(const double* const* parameters, double* residuals,
                  double** jacobians) const override {
        const Eigen::Index n = task_.start.size();
        const Eigen::VectorXd at = Eigen::Map<const Eigen::VectorXd>(parameters[0], n);
        Eigen::VectorXd residual(task_.count);
        const bool wants_slopes = jacobians != nullptr && jacobians[0] != nullptr;
        Eigen::MatrixXd jacobian;
        task_.residuals(at, residual, wants_slopes ? &jacobian : nullptr);
        Eigen::Map<Eigen::VectorXd>(residuals, task_.count) = residual;
        if (wants_slopes) Eigen::Map<RowMajor>(jacobians[0], task_.count, n) = jacobian;
        return residual.allFinite();
    }

  private:
    const LeastSquaresTask& task_;
};

void describe_best(const LeastSquaresTask& task, LeastSquaresFit& fit) {
    fit.residual.resize(task.count);
    task.residuals(fit.best, fit.residual, &fit.jacobian);
    fit.sum_of_squares = fit.residual.squaredNorm();
    const Eigen::JacobiSVD<Eigen::MatrixXd> svd(fit.jacobian, Eigen::ComputeThinV);
    const Eigen::VectorXd& sigma = svd.singularValues();
    const double least = sigma.size() < fit.best.size() ? 0.0 : sigma.minCoeff();
    fit.condition =
        least > 0.0 ? sigma.maxCoeff() / least : std::numeric_limits<double>::infinity();
    const Eigen::VectorXd variance = sigma.array().square().inverse();
    fit.covariance = svd.matrixV() * variance.asDiagonal() * svd.matrixV().transpose();
}

}  // namespace

LeastSquaresFit least_squares(const LeastSquaresTask& task) {
    LeastSquaresFit fit;
    fit.best = task.start;
    ceres::Problem problem;
    problem.AddResidualBlock(new Cost(task), nullptr, fit.best.data());
    for (int i = 0; i < static_cast<int>(task.start.size()); ++i) {
        problem.SetParameterLowerBound(fit.best.data(), i, task.low[i]);
        problem.SetParameterUpperBound(fit.best.data(), i, task.high[i]);
    }
    ceres::Solver::Options options;
    options.linear_solver_type = ceres::DENSE_QR;
    options.num_threads = 1;
    options.max_num_iterations = task.most_steps;
    options.function_tolerance = task.tolerance;
    options.parameter_tolerance = 1e-10;
    options.gradient_tolerance = 1e-12;
    options.logging_type = ceres::SILENT;
    ceres::Solver::Summary summary;
    ceres::Solve(options, &problem, &summary);
    fit.converged = summary.termination_type == ceres::CONVERGENCE;
    describe_best(task, fit);
    return fit;
}

Residuals with_central_differences(
    std::function<void(const Eigen::VectorXd&, Eigen::VectorXd&)> residuals, double step) {
    return [residuals = std::move(residuals), step](
               const Eigen::VectorXd& at, Eigen::VectorXd& residual, Eigen::MatrixXd* jacobian) {
        residuals(at, residual);
        if (jacobian == nullptr) return;
        jacobian->resize(residual.size(), at.size());
        Eigen::VectorXd above(residual.size()), below(residual.size());
        for (Eigen::Index i = 0; i < at.size(); ++i) {
            Eigen::VectorXd moved = at;
            moved[i] = at[i] + step;
            residuals(moved, above);
            moved[i] = at[i] - step;
            residuals(moved, below);
            jacobian->col(i) = (above - below) / (2.0 * step);
        }
    };
}

}  // namespace bedshade
