#include "sim/fit/fit_growth.h"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>
#include <map>
#include <utility>
#include <vector>

#include "sim/base/calendar.h"
#include "sim/base/text.h"
#include "sim/fit/least_squares.h"
#include "sim/run/forecast.h"
#include "sim/run/prior.h"

namespace bedshade {
namespace {

using Eigen::Index;
using Eigen::VectorXd;

constexpr double kRulerShare = 0.03, kRulerLeast_m = 0.002;
constexpr double kMostLog = 2.302585092994046;  // a factor of 10 either way
constexpr double kNudge = 0.05;                 // of the logarithm, for slopes
constexpr int kMostSteps = 12;

/// Follows the diameters of colonies and reads them on the days they were measured.
class DiameterSink final : public SnapshotSink {
  public:
    explicit DiameterSink(const std::vector<MeasuredDiameter>& wanted)
        : wanted_(wanted),
          last_m_(wanted.size(), 0.0),
          found_m_(VectorXd::Zero(static_cast<Index>(wanted.size()))) {}

    void take(const Snapshot& snapshot) override {
        for (std::size_t i = 0; i < wanted_.size(); ++i) {
            const auto& colony =
                snapshot.reef.colonies[static_cast<std::size_t>(wanted_[i].colony)];
            const double before_m = std::exchange(last_m_[i], mean_diameter_m(colony.radius_m));
            const double on_d = wanted_[i].on_d;
            if (on_d <= last_d_ || on_d > snapshot.day_d) continue;
            const double part = (on_d - last_d_) / (snapshot.day_d - last_d_);
            found_m_[static_cast<Index>(i)] = before_m + part * (last_m_[i] - before_m);
        }
        last_d_ = snapshot.day_d;
    }

    const VectorXd& found_m() const { return found_m_; }

  private:
    const std::vector<MeasuredDiameter>& wanted_;
    double last_d_ = 0.0;  // of the snapshot before; measured days come after the first
    std::vector<double> last_m_;
    VectorXd found_m_;
};

/// Thrown to stop the fit on request.
struct Stopped {};

class Growth {
  public:
    Growth(const Layout& layout, const std::vector<MeasuredDiameter>& diameters,
           const RunOptions& options, const ParallelFor& parallel, const GoOn& go_on)
        : layout_(layout),
          diameters_(diameters),
          options_(options),
          parallel_(parallel),
          go_on_(go_on) {
        double last_d = 0.0;
        for (const MeasuredDiameter& measured : diameters) {
            last_d = std::max(last_d, measured.on_d);
            if (std::find(colonies_.begin(), colonies_.end(), measured.colony) == colonies_.end())
                colonies_.push_back(measured.colony);
        }
        std::sort(colonies_.begin(), colonies_.end());
        layout_.season.months = std::min(
            layout.season.months, static_cast<int>(std::ceil(last_d / kDaysPerMonth - 1e-9)));
    }

    const std::vector<int>& colonies() const { return colonies_; }
    Index count() const { return static_cast<Index>(colonies_.size()); }

    double prior(Index parameter) const {
        const Colony& colony = layout_.colonies[of(parameter)];
        if (colony.growth_known_to) return deviation_of(*colony.growth_known_to);
        const Spread& rate = layout_.taxon_of(colony).extension_mm_yr;
        constexpr double kUnknown = 2.0;  // where the table gives no spread (a judgement)
        const bool has_spread = rate.low > 0.0 && rate.high > rate.low;
        return deviation_of(has_spread ? std::sqrt(rate.high / rate.low) : kUnknown);
    }

    /// The model's diameters with growth multiplied by exp(`at`). The same point is evaluated
    /// repeatedly: by the solver's steps, for their slopes, and for the report.
    const VectorXd& diameters_m(const VectorXd& at) const {
        const auto [known, is_new] =
            known_m_.try_emplace(std::vector<double>(at.data(), at.data() + at.size()));
        if (!is_new) return known->second;
        Layout grown = layout_;
        for (Index p = 0; p < count(); ++p) grown.colonies[of(p)].growth_factor *= std::exp(at[p]);
        Forecast forecast(grown, options_, parallel_);
        DiameterSink sink(diameters_);
        if (!forecast.run({&sink}, go_on_)) throw Stopped();
        return known->second = sink.found_m();
    }

    double deviation_m(std::size_t diameter) const {
        return std::hypot(kRulerShare * diameters_[diameter].across_m, kRulerLeast_m);
    }

    void residuals(const VectorXd& at, VectorXd& residual, Eigen::MatrixXd* jacobian) const {
        const Index data = static_cast<Index>(diameters_.size());
        residual.resize(data + count());
        const VectorXd& model_m = diameters_m(at);
        for (Index i = 0; i < data; ++i)
            residual[i] = (diameters_[static_cast<std::size_t>(i)].across_m - model_m[i]) /
                          deviation_m(static_cast<std::size_t>(i));
        for (Index p = 0; p < count(); ++p) residual[data + p] = at[p] / prior(p);
        if (jacobian != nullptr) slopes(at, model_m, *jacobian);
    }

    Index parameter_of(int colony) const {
        return std::lower_bound(colonies_.begin(), colonies_.end(), colony) - colonies_.begin();
    }

  private:
    std::size_t of(Index parameter) const {
        return static_cast<std::size_t>(colonies_[static_cast<std::size_t>(parameter)]);
    }

    /// One more forecast with all factors nudged gives every colony's own slope.
    void slopes(const VectorXd& at, const VectorXd& model_m, Eigen::MatrixXd& jacobian) const {
        const Index data = static_cast<Index>(diameters_.size());
        const VectorXd& nudged_m = diameters_m(at.array() + kNudge);
        jacobian = Eigen::MatrixXd::Zero(data + count(), count());
        for (Index i = 0; i < data; ++i) {
            const auto diameter = static_cast<std::size_t>(i);
            jacobian(i, parameter_of(diameters_[diameter].colony)) =
                -(nudged_m[i] - model_m[i]) / kNudge / deviation_m(diameter);
        }
        for (Index p = 0; p < count(); ++p) jacobian(data + p, p) = 1.0 / prior(p);
    }

    Layout layout_;
    const std::vector<MeasuredDiameter>& diameters_;
    RunOptions options_;
    const ParallelFor& parallel_;
    const GoOn& go_on_;
    std::vector<int> colonies_;                                // measured ones, rising
    mutable std::map<std::vector<double>, VectorXd> known_m_;  // by logarithms of the factors
};

LeastSquaresTask task_of(const Growth& growth, std::size_t data) {
    LeastSquaresTask task;
    task.count = static_cast<int>(data) + static_cast<int>(growth.count());
    task.start = VectorXd::Zero(growth.count());
    task.high = VectorXd::Constant(growth.count(), kMostLog);
    task.low = -task.high;
    task.most_steps = kMostSteps;
    task.tolerance = 1e-4;  // of the sum of squares: far below the error of a ruler
    task.residuals = [&](const VectorXd& at, VectorXd& residual, Eigen::MatrixXd* jacobian) {
        growth.residuals(at, residual, jacobian);
    };
    return task;
}

void describe(const Growth& growth, const std::vector<MeasuredDiameter>& diameters,
              const LeastSquaresFit& found, GrowthFit& fit) {
    const auto data = static_cast<Index>(diameters.size());
    const VectorXd before_m = growth.diameters_m(VectorXd::Zero(growth.count()));
    std::vector<double> leverage(static_cast<std::size_t>(growth.count()), 0.0);
    for (Index i = 0; i < data; ++i) {
        const MeasuredDiameter& measured = diameters[static_cast<std::size_t>(i)];
        const double deviation_m = growth.deviation_m(static_cast<std::size_t>(i));
        const double after_m = measured.across_m - found.residual[i] * deviation_m;
        fit.diameters.push_back({measured, before_m[i], after_m});
        const Index parameter = growth.parameter_of(measured.colony);
        auto& most = leverage[static_cast<std::size_t>(parameter)];
        most = std::max(most, -found.jacobian(i, parameter) * deviation_m / after_m);
    }
    const double left = static_cast<double>(data - growth.count());
    fit.scatter = left >= 1.0 ? found.residual.head(data).norm() / std::sqrt(left) : 1.0;
    const double widened = std::max(1.0, fit.scatter);
    for (Index p = 0; p < growth.count(); ++p) {
        const double after = widened * std::sqrt(found.covariance(p, p));
        fit.colonies.push_back({growth.colonies()[static_cast<std::size_t>(p)],
                                std::exp(found.best[p]), uncertainty_factor(growth.prior(p)),
                                uncertainty_factor(std::min(after, growth.prior(p))),
                                leverage[static_cast<std::size_t>(p)]});
    }
}

}  // namespace

GrowthFit fit_growth(const Layout& layout, const std::vector<MeasuredDiameter>& diameters,
                     double output_scale, std::uint64_t seed, const ParallelFor& parallel,
                     const GoOn& go_on) {
    const Growth growth(layout, diameters, {seed, 0, output_scale}, parallel, go_on);
    GrowthFit fit;
    try {
        const LeastSquaresFit found = least_squares(task_of(growth, diameters.size()));
        fit.converged = found.converged;
        describe(growth, diameters, found, fit);
    } catch (const Stopped&) {
        return fit;
    }
    fit.finished = true;
    return fit;
}

std::vector<std::string> open_questions(const Layout& layout, const GrowthFit& fit) {
    constexpr double kLittle = 0.02;
    std::vector<std::string> open;
    for (const FittedGrowth& growth : fit.colonies)
        if (growth.leverage < kLittle)
            open.push_back(fmt::format(
                "The diameter of '{}' gives little information about growth: it hardly grew in "
                "that time, from lack of light or because it was still becoming established. "
                "Measure it again later.",
                escape_control(layout.colonies[static_cast<std::size_t>(growth.colony)].name)));
    if (fit.scatter > 1.5)
        open.push_back(
            fmt::format("Diameters scatter {:.1f} times as much as the error of a ruler; the "
                        "uncertainties are widened by that.",
                        fit.scatter));
    if (!fit.converged) open.emplace_back("The fit did not converge: its results are doubtful.");
    return open;
}

Layout with_growth(Layout layout, const GrowthFit& fit) {
    for (const FittedGrowth& growth : fit.colonies) {
        Colony& colony = layout.colonies[static_cast<std::size_t>(growth.colony)];
        colony.growth_factor *= growth.factor;
        colony.growth_known_to = growth.uncertainty_factor;
    }
    return layout;
}

}  // namespace bedshade
