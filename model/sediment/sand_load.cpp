#include "model/sediment/sand_load.h"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <limits>
#include <numbers>

#include "model/sediment/sediment_rejection.h"

namespace bedshade {
namespace {

/// One stretch between deposits: m(t) = settled + (start - settled) exp(-k t), or start + D t.
class Stretch {
  public:
    Stretch(double start_kg_m2, double supply_kg_m2_d, double rejection_per_d, double length_d)
        : start_(start_kg_m2),
          supply_(supply_kg_m2_d),
          clearing_(rejection_per_d),
          length_(length_d) {
        if (!clears()) {
            end_ = start_ + supply_ * length_;
            return;
        }
        gone_ = -std::expm1(-clearing_ * length_);
        settled_ = supply_ / clearing_;
        end_ = start_ + (settled_ - start_) * gone_;
    }

    double length_d() const { return length_; }
    double start_kg_m2() const { return start_; }
    double end_kg_m2() const { return end_; }
    double load_integral() const;
    double light_integral() const;
    /// When the load passes a limit that lies between its start and its end [d].
    double crossing_d(double limit_kg_m2) const;

  private:
    bool clears() const { return clearing_ > 0.0; }
    double at(double t) const {
        if (!clears()) return start_ + supply_ * t;
        return settled_ + (start_ - settled_) * std::exp(-clearing_ * t);
    }
    double light_by_points() const;
    double light_by_exponential_integrals() const;

    double start_, supply_, clearing_, length_;
    double gone_ = 0.0;     ///< share of the way to the settled load that is behind it at the end
    double settled_ = 0.0;  ///< load it tends to
    double end_ = 0.0;
};

double Stretch::load_integral() const {
    if (!clears()) return length_ * 0.5 * (start_ + end_);
    return settled_ * length_ + (start_ - settled_) * gone_ / clearing_;
}

double Stretch::crossing_d(double limit) const {
    const double t = clears() ? std::log((start_ - settled_) / (limit - settled_)) / clearing_
                              : (limit - start_) / supply_;
    return std::clamp(t, 0.0, length_);  // against rounding at the ends
}

double Stretch::light_integral() const {
    // Between close deposits the load hardly changes, and three points are exact to 1e-12; the
    // closed form is needed, and worth its price, only over long stretches.
    const bool hardly_changes =
        std::abs(end_ - start_) < 0.05 * kDimmingLoad_kg_m2 && clearing_ * length_ < 0.1;
    return hardly_changes || !clears() ? light_by_points() : light_by_exponential_integrals();
}

/// Gauss-Legendre of three points; a load that only rises is integrated in full.
double Stretch::light_by_points() const {
    if (!clears()) {
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

/// Ei(x), also where its argument has shrunk below what the library tells from zero.
double exponential_integral(double x, double log_abs_x) {
    return std::abs(x) < 1e-12 ? std::numbers::egamma + log_abs_x : std::expint(x);
}

constexpr double kFarOut = 500.0;  // Ei overflows from 716

/// exp(-settled) Ei(x) for x up to `settled`, where the one may shrink to nothing and the other
/// grow beyond all numbers: far out by Ei(x) ~ exp(x)/x (1 + 1/x + 2!/x^2 + 3!/x^3 + 4!/x^4), there
/// good to 1e-11 (Abramowitz & Stegun 1964, 5.1.51 with its sign turned, from memory).
double dimmed_integral(double settled, double x, double log_abs_x) {
    if (x < kFarOut) return std::exp(-settled) * exponential_integral(x, log_abs_x);
    const double y = 1.0 / x;
    return std::exp(x - settled) * y * (1.0 + y * (1.0 + y * (2.0 + y * (6.0 + y * 24.0))));
}

/// With s = exp(-k t) the integral of exp(-m/l) dt is exp(-settled/l)/k times that of exp(-a s)/s
/// ds, a = (start - settled)/l: a difference of exponential integrals.
double Stretch::light_by_exponential_integrals() const {
    const double a = (start_ - settled_) / kDimmingLoad_kg_m2;
    const double at_rest = sand_transmittance(settled_);
    if (std::abs(a) < 1e-12) return at_rest * length_;
    const double kt = clearing_ * length_;
    const double log_a = std::log(std::abs(a));
    const double x = -a, x_end = -a * std::exp(-kt);
    if (x < kFarOut) {
        const double first = exponential_integral(x, log_a);
        const double last = exponential_integral(x_end, log_a - kt);
        return at_rest * (first - last) / clearing_;
    }
    const double settled = settled_ / kDimmingLoad_kg_m2;
    return (dimmed_integral(settled, x, log_a) - dimmed_integral(settled, x_end, log_a - kt)) /
           clearing_;
}

/// Follows the load and its clock; collects what the step reports.
class Follower {
  public:
    Follower(const SandLoad& start, const SandStep& step)
        : step_(step), now_d_(step.from_d), load_(start) {}

    void land(double mass_kg_m2) { load_.load_kg_m2 += step_.kept_share * mass_kg_m2; }

    void run_to(double to_d) {
        while (to_d > now_d_) {
            const Stretch whole = stretch_to(to_d);
            const double free_d = now_d_ + digs_out_after_d(whole);
            if (free_d >= to_d) {
                pass(whole, to_d);
                return;
            }
            pass(stretch_to(free_d), free_d);
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
    Stretch stretch_to(double to_d) const {
        return {load_.load_kg_m2, step_.kept_share * step_.deposition_kg_m2_d,
                step_.rejection_per_d, to_d - now_d_};
    }

    void pass(const Stretch& stretch, double to_d) {
        load_integral_ += stretch.load_integral();
        light_integral_ += stretch.light_integral();
        count_cover(stretch);
        load_.load_kg_m2 = stretch.end_kg_m2();
        now_d_ = to_d;
    }

    /// How far into a stretch it has been covered long enough to be out; beyond it: not in it [d].
    double digs_out_after_d(const Stretch& stretch) const {
        constexpr double kNever = std::numeric_limits<double>::infinity();
        if (step_.digs_out_d == kNever) return kNever;
        const bool over_before = stretch.start_kg_m2() > kSmotheringLoad_kg_m2;
        const bool over_after = stretch.end_kg_m2() > kSmotheringLoad_kg_m2;
        if (!over_before && !over_after) return kNever;
        const double crossing = over_before == over_after
                                    ? stretch.length_d()
                                    : stretch.crossing_d(kSmotheringLoad_kg_m2);
        if (!over_before) return crossing + step_.digs_out_d;
        const double left = std::max(step_.digs_out_d - load_.over_d, 0.0);
        return left <= crossing ? left : kNever;
    }

    void count_cover(const Stretch& stretch) {
        const bool over_before = stretch.start_kg_m2() > kSmotheringLoad_kg_m2;
        const bool over_after = stretch.end_kg_m2() > kSmotheringLoad_kg_m2;
        const double length = stretch.length_d();
        if (!over_before) load_.over_d = 0.0;
        if (over_before && over_after) cover(now_d_, length);
        if (over_before == over_after) return;
        const double crossing = stretch.crossing_d(kSmotheringLoad_kg_m2);
        if (over_after) {
            cover(now_d_ + crossing, length - crossing);
        } else {
            cover(now_d_, crossing);
            load_.over_d = 0.0;
        }
    }

    void cover(double from_d, double for_d) {
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
    Follower follower(start, step);
    for (const auto& deposit : step.deposits) {
        assert(deposit.time_d >= step.from_d && deposit.time_d < step.to_d);
        follower.run_to(deposit.time_d);
        follower.land(deposit.mass_kg_m2);
    }
    follower.run_to(step.to_d);
    return follower.outcome();
}

}  // namespace bedshade
