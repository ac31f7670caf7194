// Least squares on a certified case, at bounds, and where the data cannot tell.
#include "sim/fit/least_squares.h"

#include <array>
#include <catch2/catch.hpp>
#include <cmath>

using namespace bedshade;
using Eigen::VectorXd;

namespace {

// NIST StRD, Misra1a (D. Misra 1978, dental research on monomolecular adsorption): y = b1 (1 -
// exp(-b2 x)). Data and certified values from memory; wrong data would miss the certified values.
constexpr std::array<double, 14> kX = {77.6,  114.9, 141.1, 190.8, 239.9, 289.0, 332.8,
                                       378.4, 434.8, 477.3, 536.8, 593.1, 689.1, 760.0};
constexpr std::array<double, 14> kY = {10.07, 14.73, 17.94, 23.93, 29.61, 35.18, 40.02,
                                       44.82, 50.76, 55.05, 61.01, 66.40, 75.47, 81.78};

VectorXd two(double a, double b) {
    VectorXd values(2);
    values << a, b;
    return values;
}

LeastSquaresTask misra(double b1, double b2) {
    LeastSquaresTask task;
    task.count = 14;
    task.start = two(b1, b2);
    task.low = two(0.0, 0.0);
    task.high = two(1e4, 1.0);
    task.residuals = [](const VectorXd& b, VectorXd& residual, Eigen::MatrixXd* jacobian) {
        residual.resize(14);
        if (jacobian) jacobian->resize(14, 2);
        for (Eigen::Index i = 0; i < 14; ++i) {
            const double x = kX[static_cast<std::size_t>(i)];
            const double left = std::exp(-b[1] * x);
            residual[i] = b[0] * (1.0 - left) - kY[static_cast<std::size_t>(i)];
            if (jacobian) jacobian->row(i) << 1.0 - left, b[0] * x * left;
        }
    };
    return task;
}

}  // namespace

TEST_CASE("a certified case gives the certified result from both of its starts") {
    for (const auto& [b1, b2] : {std::pair{500.0, 1e-4}, std::pair{250.0, 5e-4}}) {
        const LeastSquaresFit fit = least_squares(misra(b1, b2));
        CHECK(fit.converged);
        CHECK(fit.best[0] == Approx(2.3894212918e2).epsilon(1e-8));
        CHECK(fit.best[1] == Approx(5.5015643181e-4).epsilon(1e-8));
        CHECK(fit.sum_of_squares == Approx(1.2455138894e-1).epsilon(1e-8));
        const double scatter = fit.sum_of_squares / 12.0;
        CHECK(std::sqrt(scatter * fit.covariance(0, 0)) == Approx(2.7070075241).epsilon(1e-6));
        CHECK(std::sqrt(scatter * fit.covariance(1, 1)) == Approx(7.2668688436e-6).epsilon(1e-6));
    }
}

TEST_CASE("an optimum beyond the bounds stays at the bound") {
    LeastSquaresTask task = misra(190.0, 5e-4);
    task.high[0] = 200.0;
    const LeastSquaresFit fit = least_squares(task);
    CHECK(fit.best[0] == Approx(200.0));
    CHECK(fit.sum_of_squares > 0.1245514);
}

TEST_CASE("central differences approximate the derivatives") {
    const LeastSquaresTask task = misra(250.0, 5e-4);
    const auto plain = [&](const VectorXd& at, VectorXd& residual) {
        task.residuals(at, residual, nullptr);
    };
    VectorXd residual(14);
    Eigen::MatrixXd exact, found;
    task.residuals(task.start, residual, &exact);
    with_central_differences(plain, 1e-6)(task.start, residual, &found);
    CHECK((exact - found).norm() < 1e-6 * exact.norm());
}

TEST_CASE("two parameters that only act together are reported as undetermined") {
    LeastSquaresTask task;
    task.count = 3;
    task.start = two(0.2, 0.1);
    task.low = two(-9.0, -9.0);
    task.high = two(9.0, 9.0);
    task.residuals = [](const VectorXd& b, VectorXd& residual, Eigen::MatrixXd* jacobian) {
        residual.resize(3);
        for (Eigen::Index i = 0; i < 3; ++i) residual[i] = b[0] + b[1] - 1.0;
        if (jacobian) *jacobian = Eigen::MatrixXd::Ones(3, 2);
    };
    const LeastSquaresFit fit = least_squares(task);
    CHECK(fit.best.sum() == Approx(1.0));
    CHECK(fit.condition > 1e12);
}
