#include "model/monte_carlo/web_sampler.h"

#include <algorithm>
#include <cmath>
#include <utility>

namespace bedshade::monte_carlo {
namespace {

/// Flux of a plane in an interval of polar angles in which its intensity is linear: integral of I
/// sin p from the start of the interval.
struct Strip {
    double start_rad, end_rad, first, last;

    double slope() const { return (last - first) / (end_rad - start_rad); }
    double density(double p) const { return (first + slope() * (p - start_rad)) * std::sin(p); }
    double cumulative(double p) const {
        // By parts: -I cos p, and the slope times sin p.
        const double here = first + slope() * (p - start_rad);
        return first * std::cos(start_rad) - here * std::cos(p) +
               slope() * (std::sin(p) - std::sin(start_rad));
    }
    double whole() const { return cumulative(end_rad); }
};

/// Polar angle at which the cumulative flux reaches `wanted`: Newton's method, safeguarded by
/// bisection.
double inverse(const Strip& strip, double wanted) {
    double low = strip.start_rad, high = strip.end_rad, p = 0.5 * (low + high);
    for (int i = 0; i < 60 && high - low > 1e-12; ++i) {
        const double excess = strip.cumulative(p) - wanted;
        (excess > 0.0 ? high : low) = p;
        const double density = strip.density(p);
        const double next = density > 0.0 ? p - excess / density : low;
        const double before = p;
        p = next > low && next < high ? next : 0.5 * (low + high);
        if (std::abs(p - before) < 1e-12) break;
    }
    return p;
}

/// The interval of an ascending list of sums that contains `wanted`.
std::size_t entry_below(const std::vector<double>& sums, double wanted) {
    const auto above = std::upper_bound(sums.begin() + 1, sums.end() - 1, wanted);
    return static_cast<std::size_t>(above - sums.begin()) - 1;
}

}  // namespace

WebSampler::WebSampler(std::shared_ptr<const PhotometricWeb> web) : web_(std::move(web)) {
    const auto& polar = web_->polar_rad;
    const auto& turn = web_->turn_rad;
    for (std::size_t t = 0; t < turn.size(); ++t) {
        double sum = 0.0;
        cumulative_.push_back(0.0);
        for (std::size_t p = 1; p < polar.size(); ++p) {
            sum += Strip{polar[p - 1], polar[p], web_->at(t, p - 1), web_->at(t, p)}.whole();
            cumulative_.push_back(sum);
        }
    }
    const std::size_t last = polar.size() - 1;
    cumulative_turn_.push_back(0.0);
    for (std::size_t t = 1; t < turn.size(); ++t) {
        const double mean = cumulative({t - 1, 0.5}, last);
        cumulative_turn_.push_back(cumulative_turn_.back() + mean * (turn[t] - turn[t - 1]));
    }
}

double WebSampler::intensity(Blend blend, std::size_t polar) const {
    return std::lerp(web_->at(blend.plane, polar), web_->at(blend.plane + 1, polar), blend.share);
}

double WebSampler::cumulative(Blend blend, std::size_t polar) const {
    const double* plane = cumulative_.data() + blend.plane * web_->polar_rad.size();
    return std::lerp(plane[polar], plane[polar + web_->polar_rad.size()], blend.share);
}

WebSampler::Blend WebSampler::sample_plane(double u) const {
    const double wanted = u * cumulative_turn_.back();
    const std::size_t plane = entry_below(cumulative_turn_, wanted);
    const std::size_t last = web_->polar_rad.size() - 1;
    const double first = cumulative({plane, 0.0}, last), second = cumulative({plane, 1.0}, last);
    const double left =
        (wanted - cumulative_turn_[plane]) / (web_->turn_rad[plane + 1] - web_->turn_rad[plane]);
    // first s + (second - first) s^2 / 2 = left, written so that equal planes do not divide by
    // zero.
    const double root = std::sqrt(std::max(0.0, first * first + 2.0 * (second - first) * left));
    const double share = first + root > 0.0 ? 2.0 * left / (first + root) : 0.0;
    return {plane, std::clamp(share, 0.0, 1.0)};
}

double WebSampler::sample_polar_rad(Blend blend, double v) const {
    const auto& polar = web_->polar_rad;
    const double wanted = v * cumulative(blend, polar.size() - 1);
    std::size_t low = 0, high = polar.size() - 1;
    while (high - low > 1) {
        const std::size_t middle = (low + high) / 2;
        (cumulative(blend, middle) <= wanted ? low : high) = middle;
    }
    const Strip strip{polar[low], polar[high], intensity(blend, low), intensity(blend, high)};
    return inverse(strip, wanted - cumulative(blend, low));
}

WebSampler::Angles WebSampler::sample(double u, double v) const {
    const Blend blend = sample_plane(u);
    const auto& turn = web_->turn_rad;
    return {std::lerp(turn[blend.plane], turn[blend.plane + 1], blend.share),
            sample_polar_rad(blend, v)};
}

}  // namespace bedshade::monte_carlo
