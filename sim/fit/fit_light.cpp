#include "sim/fit/fit_light.h"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>
#include <limits>

#include "sim/fit/least_squares.h"
#include "sim/fit/water_table.h"
#include "sim/run/prior.h"

namespace bedshade {
namespace {

using Eigen::Index;
using Eigen::VectorXd;

constexpr double kLeastDeviation_umol_m2_s = 0.5;  // what a meter shows in the dark
constexpr double kLampApart = 1.1;  // lamps of one make, at 95 % (a judgement, no source)

/// The fit's parameters, all logarithms: output, water, the meter's calibration, and each lamp's
/// own part where there are several.
enum Parameter : Index { kOutput, kWater, kMeter, kLamps };

class Model {
  public:
    Model(const Layout& layout, const std::vector<Reading>& readings, const MeterError& error,
          const ParallelFor& parallel)
        : readings_(readings), error_(error), table_(layout, readings, parallel) {
        const std::size_t lamps = layout.lamps.size();
        prior_.resize(kLamps + static_cast<Index>(lamps > 1 ? lamps : 0));
        prior_.setConstant(deviation_of(kLampApart));
        prior_[kOutput] = deviation_of(kOutputAssumed);
        prior_[kWater] = deviation_of(kWaterAssumed);
        prior_[kMeter] = error.calibration;
    }

    Index parameters() const { return prior_.size(); }
    Index data() const { return static_cast<Index>(readings_.size()); }
    double prior(Index parameter) const { return prior_[parameter]; }

    double light(std::size_t reading, const VectorXd& at) const {
        double sum = 0.0;
        for (std::size_t lamp = 0; lamp < table_.lamps(); ++lamp)
            sum += lamp_factor(lamp, at) * table_.light(reading, lamp, at[kWater]);
        return sum;
    }
    double lamp_factor(std::size_t lamp, const VectorXd& at) const {
        const Index own = kLamps + static_cast<Index>(lamp);
        return std::exp(at[kOutput] + (own < at.size() ? at[own] : 0.0));
    }
    double deviation(std::size_t reading) const {
        return std::hypot(error_.scatter * readings_[reading].ppfd_umol_m2_s,
                          kLeastDeviation_umol_m2_s);
    }
    double off(std::size_t reading, const VectorXd& at) const {
        return (readings_[reading].ppfd_umol_m2_s - std::exp(at[kMeter]) * light(reading, at)) /
               deviation(reading);
    }

    /// Readings first, then what was known before.
    void residuals(const VectorXd& at, VectorXd& residual) const {
        residual.resize(data() + parameters());
        for (std::size_t i = 0; i < readings_.size(); ++i)
            residual[static_cast<Index>(i)] = off(i, at);
        residual.tail(parameters()) = at.array() / prior_.array();
    }

  private:
    const std::vector<Reading>& readings_;
    MeterError error_;
    WaterTable table_;
    VectorXd prior_;
};

constexpr double kStep = 1e-4;

LeastSquaresTask task_of(const Model& model) {
    LeastSquaresTask task;
    task.count = static_cast<int>(model.data() + model.parameters());
    task.start = VectorXd::Zero(model.parameters());
    // A table of waters ends where it ends; nothing else is bounded this side of absurdity.
    task.high = VectorXd::Constant(model.parameters(), kMostWaterLog - 2.0 * kStep);
    task.low = -task.high;
    task.residuals = with_central_differences(
        [&](const VectorXd& at, VectorXd& residual) { model.residuals(at, residual); }, kStep);
    return task;
}

/// How collinear output and water are in the readings: the condition of their two columns, each
/// scaled to length 1 (Belsley, Kuh & Welsch 1980).
double condition_of(const Model& model, const LeastSquaresFit& fit) {
    const VectorXd output = fit.jacobian.col(kOutput).head(model.data());
    const VectorXd water = fit.jacobian.col(kWater).head(model.data());
    const double lengths = output.norm() * water.norm();
    const double alike = lengths > 0.0 ? std::abs(output.dot(water)) / lengths : 1.0;
    return alike < 1.0 ? std::sqrt((1.0 + alike) / (1.0 - alike))
                       : std::numeric_limits<double>::infinity();
}

/// Root mean square of the readings' misfit; 1 if there are too few.
double scatter_of(const Model& model, const LeastSquaresFit& fit) {
    const double left = static_cast<double>(model.data()) - 2.0;
    return left >= 1.0 ? fit.residual.head(model.data()).norm() / std::sqrt(left) : 1.0;
}

FittedFactor factor_of(const Model& model, const LeastSquaresFit& fit, Index parameter,
                       double widened) {
    const double after = widened * std::sqrt(fit.covariance(parameter, parameter));
    const double before = model.prior(parameter);
    return {std::exp(fit.best[parameter]), uncertainty_factor(before),
            uncertainty_factor(std::min(after, before))};
}

}  // namespace

double FittedFactor::remaining_uncertainty() const {
    return std::log(uncertainty_factor) / std::log(known_to_before);
}

LightFit fit_light(const Layout& layout, const std::vector<Reading>& readings,
                   const MeterError& error, const ParallelFor& parallel) {
    const Model model(layout, readings, error, parallel);
    const LeastSquaresFit found = least_squares(task_of(model));
    LightFit fit;
    fit.converged = found.converged;
    fit.condition = condition_of(model, found);
    fit.scatter = scatter_of(model, found);
    const double widened = std::max(1.0, fit.scatter);
    fit.output = factor_of(model, found, kOutput, widened);
    fit.water = factor_of(model, found, kWater, widened);
    fit.water_with_output =
        found.covariance(kOutput, kWater) /
        std::sqrt(found.covariance(kOutput, kOutput) * found.covariance(kWater, kWater));
    for (std::size_t lamp = 0; lamp < layout.lamps.size(); ++lamp)
        fit.lamp_output.push_back(model.lamp_factor(lamp, found.best));
    const VectorXd before = VectorXd::Zero(model.parameters());
    for (std::size_t i = 0; i < readings.size(); ++i)
        fit.readings.push_back({readings[i], model.light(i, before), model.light(i, found.best),
                                found.residual[static_cast<Index>(i)]});
    return fit;
}

std::vector<std::string> open_questions(const LightFit& fit) {
    constexpr double kMostUncertainty =
        0.7;                         // of the prior: below this the readings are informative
    constexpr double kAlike = 10.0;  // condition above which two parameters cannot be separated
    std::vector<std::string> open;
    if (fit.condition > kAlike)
        open.emplace_back(
            "They cannot separate weak lamps from dark water: measure near the surface and near "
            "the sand under the same lamp.");
    if (fit.water.remaining_uncertainty() > kMostUncertainty)
        open.push_back(
            fmt::format("They give little information about the water: {:.0f} % of the uncertainty "
                        "is left. Longer paths through it give more.",
                        100.0 * fit.water.remaining_uncertainty()));
    if (fit.output.remaining_uncertainty() > kMostUncertainty)
        open.push_back(fmt::format(
            "They give little information about the lamps: {:.0f} % of the uncertainty is left.",
            100.0 * fit.output.remaining_uncertainty()));
    if (fit.scatter > 1.5)
        open.push_back(
            fmt::format("They scatter about the fitted model {:.1f} times as much as the error of "
                        "a meter, so the layout differs from the tank in something else; the "
                        "uncertainties are widened by that.",
                        fit.scatter));
    if (!fit.converged) open.emplace_back("The fit did not converge: its results are doubtful.");
    return open;
}

Layout with_light(Layout layout, const LightFit& fit) {
    layout = with_water(std::move(layout), fit.water.best);
    for (std::size_t lamp = 0; lamp < layout.lamps.size(); ++lamp)
        layout.lamps[lamp].photon_flux_umol_s *= fit.lamp_output[lamp];
    layout.season.use_readings = false;
    layout.measured = {fit.output.uncertainty_factor, fit.water.uncertainty_factor,
                       fit.water_with_output};
    return layout;
}

}  // namespace bedshade
