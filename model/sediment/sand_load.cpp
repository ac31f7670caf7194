#include "model/sediment/sand_load.h"

#include <cassert>
#include <cmath>
#include <numbers>

#include "model/sediment/clearing.h"

namespace bedshade {
namespace {

/// One stretch between deposits: m(t) = settled + (start - settled) exp(-k t), or start + D t.
struct Stretch {
    double start_kg_m2, supply_kg_m2_d, clearing_per_d, length_d;

    double settled() const { return supply_kg_m2_d / clearing_per_d; }
    double at(double t) const {
        if (clearing_per_d <= 0.0) return start_kg_m2 + supply_kg_m2_d * t;
        return settled() + (start_kg_m2 - settled()) * std::exp(-clearing_per_d * t);
    }
    double integral() const {
        if (clearing_per_d <= 0.0)
            return length_d * (start_kg_m2 + 0.5 * supply_kg_m2_d * length_d);
        const double gone = -std::expm1(-clearing_per_d * length_d);
        return settled() * length_d + (start_kg_m2 - settled()) * gone / clearing_per_d;
    }
    /// When the load passes a limit that lies strictly between its start and where it tends to.
    std::optional<double> crossing(double limit) const {
        if (clearing_per_d <= 0.0) {
            if (supply_kg_m2_d <= 0.0 || start_kg_m2 >= limit) return std::nullopt;
            return (limit - start_kg_m2) / supply_kg_m2_d;
        }
        const double ratio = (start_kg_m2 - settled()) / (limit - settled());
        // A ratio below 1 has passed the limit already, or tends away from it.
        if (!(ratio > 1.0) || !std::isfinite(ratio)) return std::nullopt;
        return std::log(ratio) / clearing_per_d;
    }
    double light_integral() const;
};

/// Ei(x), also where its argument has shrunk below what the library tells from zero.
double exponential_integral_from(double x, double log_abs_x) {
    return std::abs(x) < 1e-12 ? std::numbers::egamma + log_abs_x : std::expint(x);
}

/// Integral of exp(-m/l) over the stretch. With s = exp(-k t) it is
/// exp(-settled/l)/k times the integral of exp(-a s)/s ds, a = (start - settled)/l: a difference of
/// exponential integrals.
double Stretch::light_integral() const {
    const double scale = kDimmingLoad_kg_m2;
    if (clearing_per_d <= 0.0) {
        const double lost = supply_kg_m2_d * length_d / scale;
        const double share = lost > 0.0 ? -std::expm1(-lost) / lost : 1.0;
        return length_d * std::exp(-start_kg_m2 / scale) * share;
    }
    const double a = (start_kg_m2 - settled()) / scale;
    const double kt = clearing_per_d * length_d;
    const double at_rest = std::exp(-settled() / scale);
    if (std::abs(a) < 1e-12) return at_rest * length_d;
    const double log_a = std::log(std::abs(a));
    const double first = exponential_integral_from(-a, log_a);
    const double last = exponential_integral_from(-a * std::exp(-kt), log_a - kt);
    return at_rest * (first - last) / clearing_per_d;
}

/// Follows the load and its clock; collects what the step reports.
class Follower {
  public:
    Follower(const SandLoad& start, const SandStep& step)
        : step_(step), now_d_(step.from_d), load_(start) {}

    void land(double mass_kg_m2) { load_.load_kg_m2 += step_.kept_share * mass_kg_m2; }

    void run_to(double to_d) {
        const Stretch stretch{load_.load_kg_m2, step_.kept_share * step_.fallout_kg_m2_d,
                              step_.clearing_per_d, to_d - now_d_};
        if (!(stretch.length_d > 0.0)) return;
        load_integral_ += stretch.integral();
        light_integral_ += stretch.light_integral();
        count_cover(stretch);
        load_.load_kg_m2 = stretch.at(stretch.length_d);
        now_d_ = to_d;
    }

    SandOutcome outcome() const {
        SandOutcome out;
        out.end = load_;
        out.buried_at_d = buried_at_d_;
        const double length = step_.to_d - step_.from_d;
        out.mean_load_kg_m2 = length > 0.0 ? load_integral_ / length : load_.load_kg_m2;
        out.mean_transmittance =
            length > 0.0 ? light_integral_ / length : sand_transmittance(load_.load_kg_m2);
        return out;
    }

  private:
    void count_cover(const Stretch& stretch) {
        const double length = stretch.length_d;
        const auto crossing = stretch.crossing(kSmotheringLoad_kg_m2);
        const bool crosses = crossing && *crossing < length;
        if (stretch.start_kg_m2 > kSmotheringLoad_kg_m2) {
            cover(now_d_, crosses ? *crossing : length);
            if (crosses) load_.over_d = 0.0;
        } else {
            load_.over_d = 0.0;
            if (crosses) cover(now_d_ + *crossing, length - *crossing);
        }
    }

    void cover(double from_d, double for_d) {
        const double before = load_.over_d;
        load_.over_d += for_d;
        if (!buried_at_d_ && before < step_.burial_d && load_.over_d >= step_.burial_d)
            buried_at_d_ = from_d + (step_.burial_d - before);
    }

    const SandStep& step_;
    double now_d_;
    SandLoad load_;
    std::optional<double> buried_at_d_;
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
