#include "model/sediment/sand_load.h"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <limits>
#include <numbers>

#include "model/sediment/sediment_rejection.h"

namespace bedshade {
namespace {

/// One interval between deposits: m(t) = steady + (start - steady) exp(-k t), or start + D t.
class Interval {
  public:
    Interval(double start_kg_m2, double supply_kg_m2_d, double rejection_per_d, double length_d)
        : start_(start_kg_m2),
          supply_(supply_kg_m2_d),
          rejection_(rejection_per_d),
          length_(length_d) {
        if (!rejects()) {
            end_ = start_ + supply_ * length_;
            return;
        }
        relaxation_ = -std::expm1(-rejection_ * length_);
        steady_ = supply_ / rejection_;
        end_ = start_ + (steady_ - start_) * relaxation_;
    }

    double length_d() const { return length_; }
    double start_kg_m2() const { return start_; }
    double end_kg_m2() const { return end_; }
    double load_integral() const;
    double light_integral() const;
    /// Time at which the load crosses a limit between its start and its end [d].
    double crossing_d(double limit_kg_m2) const;

  private:
    bool rejects() const { return rejection_ > 0.0; }
    double at(double t) const {
        if (!rejects()) return start_ + supply_ * t;
        return steady_ + (start_ - steady_) * std::exp(-rejection_ * t);
    }
    double light_by_quadrature() const;
    double light_by_exponential_integrals() const;

    double start_, supply_, rejection_, length_;
    double relaxation_ = 0.0;  ///< 1 - exp(-k t) at the end: fraction of the approach to steady_
    double steady_ = 0.0;      ///< D/k: the load in steady state
    double end_ = 0.0;
};

double Interval::load_integral() const {
    if (!rejects()) return length_ * 0.5 * (start_ + end_);
    return steady_ * length_ + (start_ - steady_) * relaxation_ / rejection_;
}

double Interval::crossing_d(double limit) const {
    const double t = rejects() ? std::log((start_ - steady_) / (limit - steady_)) / rejection_
                               : (limit - start_) / supply_;
    return std::clamp(t, 0.0, length_);  // against rounding at the ends
}

double Interval::light_integral() const {
    // Between close deposits the load hardly changes, and three quadrature points are exact to
    // 1e-12; the closed form is needed only over long intervals.
    const bool hardly_changes =
        std::abs(end_ - start_) < 0.05 * kDimmingLoad_kg_m2 && rejection_ * length_ < 0.1;
    return hardly_changes || !rejects() ? light_by_quadrature() : light_by_exponential_integrals();
}

/// Three-point Gauss-Legendre quadrature; without rejection the integral is closed.
double Interval::light_by_quadrature() const {
    if (!rejects()) {
        const double lost = (end_ - start_) / kDimmingLoad_kg_m2;
        const double share = lost > 0.0 ? -std::expm1(-lost) / lost : 1.0;
        return length_ * sand_transmittance(start_) * share;
    }
    const double off = std::sqrt(0.15);
    return length_ *
           (5.0 * sand_transmittance(at((0.5 - off) * length_)) +
            8.0 * sand_transmittance(at(0.5 * length_)) +
            5.0 * sand_transmittance(at((0.5 + off) * length_))) /
           18.0;
}

/// Ei(x), also for arguments so small that the library returns -infinity.
double exponential_integral(double x, double log_abs_x) {
    return std::abs(x) < 1e-12 ? std::numbers::egamma + log_abs_x : std::expint(x);
}

constexpr double kAsymptotic = 500.0;  // Ei overflows from 716

/// exp(-steady) Ei(x) for x up to `steady`, without underflow of one factor and overflow of the
/// other: for large x by Ei(x) ~ exp(x)/x (1 + 1/x + 2!/x^2 + 3!/x^3 + 4!/x^4), with a relative
/// error of 1e-11 (Abramowitz & Stegun 1964, 5.1.51 with the opposite sign, from memory).
double scaled_exponential_integral(double steady, double x, double log_abs_x) {
    if (x < kAsymptotic) return std::exp(-steady) * exponential_integral(x, log_abs_x);
    const double y = 1.0 / x;
    return std::exp(x - steady) * y * (1.0 + y * (1.0 + y * (2.0 + y * (6.0 + y * 24.0))));
}

/// With s = exp(-k t) the integral of exp(-m/l) dt is exp(-steady/l)/k times that of exp(-a s)/s
/// ds, a = (start - steady)/l: a difference of exponential integrals.
double Interval::light_by_exponential_integrals() const {
    const double a = (start_ - steady_) / kDimmingLoad_kg_m2;
    const double steady_transmittance = sand_transmittance(steady_);
    if (std::abs(a) < 1e-12) return steady_transmittance * length_;
    const double kt = rejection_ * length_;
    const double log_a = std::log(std::abs(a));
    const double x = -a, x_end = -a * std::exp(-kt);
    if (x < kAsymptotic) {
        const double first = exponential_integral(x, log_a);
        const double last = exponential_integral(x_end, log_a - kt);
        return steady_transmittance * (first - last) / rejection_;
    }
    const double steady = steady_ / kDimmingLoad_kg_m2;
    return (scaled_exponential_integral(steady, x, log_a) -
            scaled_exponential_integral(steady, x_end, log_a - kt)) /
           rejection_;
}

/// Integrates the load over a step and accumulates its outcome.
class LoadIntegrator {
  public:
    LoadIntegrator(const SandLoad& start, const SandStep& step)
        : step_(step), now_d_(step.from_d), load_(start) {}

    void deposit(double mass_kg_m2) { load_.load_kg_m2 += step_.kept_share * mass_kg_m2; }

    void advance_to(double to_d) {
        while (to_d > now_d_) {
            const Interval whole = interval_to(to_d);
            const double free_d = now_d_ + excavation_time_d(whole);
            if (free_d >= to_d) {
                accumulate(whole, to_d);
                return;
            }
            accumulate(interval_to(free_d), free_d);
            load_ = {};
        }
    }

    SandOutcome outcome() const {
        SandOutcome out;
        out.end = load_;
        out.buried_at_d = buried_at_d_;
        out.dying_d = dying_d_;
        const double length = step_.to_d - step_.from_d;
        out.mean_load_kg_m2 = length > 0.0 ? load_integral_ / length : load_.load_kg_m2;
        out.mean_transmittance =
            length > 0.0 ? light_integral_ / length : sand_transmittance(load_.load_kg_m2);
        return out;
    }

  private:
    Interval interval_to(double to_d) const {
        return {load_.load_kg_m2, step_.kept_share * step_.deposition_kg_m2_d,
                step_.rejection_per_d, to_d - now_d_};
    }

    void accumulate(const Interval& interval, double to_d) {
        load_integral_ += interval.load_integral();
        light_integral_ += interval.light_integral();
        track_cover(interval);
        load_.load_kg_m2 = interval.end_kg_m2();
        now_d_ = to_d;
    }

    /// Time into an interval at which it has been covered for digs_out_d; infinite when not in it
    /// [d].
    double excavation_time_d(const Interval& interval) const {
        constexpr double kNever = std::numeric_limits<double>::infinity();
        if (step_.digs_out_d == kNever) return kNever;
        const bool over_before = interval.start_kg_m2() > kSmotheringLoad_kg_m2;
        const bool over_after = interval.end_kg_m2() > kSmotheringLoad_kg_m2;
        if (!over_before && !over_after) return kNever;
        const double crossing = over_before == over_after
                                    ? interval.length_d()
                                    : interval.crossing_d(kSmotheringLoad_kg_m2);
        if (!over_before) return crossing + step_.digs_out_d;
        const double left = std::max(step_.digs_out_d - load_.over_d, 0.0);
        return left <= crossing ? left : kNever;
    }

    void track_cover(const Interval& interval) {
        const bool over_before = interval.start_kg_m2() > kSmotheringLoad_kg_m2;
        const bool over_after = interval.end_kg_m2() > kSmotheringLoad_kg_m2;
        const double length = interval.length_d();
        if (!over_before) load_.over_d = 0.0;
        if (over_before && over_after) add_covered_time(now_d_, length);
        if (over_before == over_after) return;
        const double crossing = interval.crossing_d(kSmotheringLoad_kg_m2);
        if (over_after) {
            add_covered_time(now_d_ + crossing, length - crossing);
        } else {
            add_covered_time(now_d_, crossing);
            load_.over_d = 0.0;
        }
    }

    void add_covered_time(double from_d, double for_d) {
        const double before = load_.over_d;
        load_.over_d += for_d;
        dying_d_ += std::max(0.0, load_.over_d - std::max(before, step_.burial_d));
        if (!buried_at_d_ && before < step_.burial_d && load_.over_d >= step_.burial_d)
            buried_at_d_ = from_d + (step_.burial_d - before);
    }

    const SandStep& step_;
    double now_d_;
    SandLoad load_;
    std::optional<double> buried_at_d_;
    double dying_d_ = 0.0;
    double load_integral_ = 0.0, light_integral_ = 0.0;
};

}  // namespace

SandOutcome follow_sand(const SandLoad& start, const SandStep& step) {
    LoadIntegrator integrator(start, step);
    for (const auto& deposit : step.deposits) {
        assert(deposit.time_d >= step.from_d && deposit.time_d < step.to_d);
        integrator.advance_to(deposit.time_d);
        integrator.deposit(deposit.mass_kg_m2);
    }
    integrator.advance_to(step.to_d);
    return integrator.outcome();
}

}  // namespace bedshade
