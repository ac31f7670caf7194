#include "model/light/photometric_beam.h"

#include <Eigen/Geometry>
#include <algorithm>
#include <cassert>
#include <cmath>
#include <utility>

namespace bedshade {
namespace {

/// Tolerance for directions just outside the grid, against rounding of sines and cosines.
constexpr double kRounding_rad = 1e-9;

/// A position between two entries of an ascending list: the lower entry and the fraction to the
/// next.
struct Between {
    std::size_t low = 0;
    double share = 0.0;
};

bool covers(const std::vector<double>& angles, double angle) {
    return angle >= angles.front() - kRounding_rad && angle <= angles.back() + kRounding_rad;
}

Between locate(const std::vector<double>& angles, double angle) {
    const auto above = std::upper_bound(angles.begin() + 1, angles.end() - 1, angle);
    const auto low = static_cast<std::size_t>(above - angles.begin()) - 1;
    const double share = (angle - angles[low]) / (angles[low + 1] - angles[low]);
    return {low, std::clamp(share, 0.0, 1.0)};
}

double bilinear(const PhotometricWeb& web, Between turn, Between polar) {
    const auto along = [&](std::size_t plane) {
        return std::lerp(web.at(plane, polar.low), web.at(plane, polar.low + 1), polar.share);
    };
    return std::lerp(along(turn.low), along(turn.low + 1), turn.share);
}

/// Integral of I sin p dp between `low` and `high`, for an intensity that is linear from `from` at
/// angle a to `to` at angle b.
double integrate_zone(double a, double from, double b, double to, double low, double high) {
    low = std::max(low, a);
    high = std::min(high, b);
    if (low >= high) return 0.0;
    const double slope = (to - from) / (b - a), level = from - slope * a;
    const auto part = [](double p) { return std::sin(p) - p * std::cos(p); };
    return level * (std::cos(low) - std::cos(high)) + slope * (part(high) - part(low));
}

double plane_flux_between(const PhotometricWeb& web, std::size_t plane, double low, double high) {
    const auto& polar = web.polar_rad;
    double sum = 0.0;
    for (std::size_t p = 0; p + 1 < polar.size(); ++p)
        sum += integrate_zone(polar[p], web.at(plane, p), polar[p + 1], web.at(plane, p + 1), low,
                              high);
    return sum;
}

}  // namespace

double flux_between(const PhotometricWeb& web, double polar_low_rad, double polar_high_rad) {
    const auto& turn = web.turn_rad;
    double sum = 0.0, before = plane_flux_between(web, 0, polar_low_rad, polar_high_rad);
    for (std::size_t t = 1; t < turn.size(); ++t) {
        const double here = plane_flux_between(web, t, polar_low_rad, polar_high_rad);
        sum += 0.5 * (before + here) * (turn[t] - turn[t - 1]);
        before = here;
    }
    return sum;
}

double flux_of(const PhotometricWeb& web) { return flux_between(web, 0.0, kPi); }

double backward_fraction(const PhotometricWeb& web) {
    // A grid about the width has no direction behind the face: its turn is a right angle at most.
    if (web.pole == PhotometricWeb::Pole::width) return 0.0;
    return flux_between(web, 0.5 * kPi, kPi) / flux_of(web);
}

PhotometricBeam::PhotometricBeam(std::shared_ptr<const PhotometricWeb> web, const LampFrame& frame)
    : web_(std::move(web)) {
    const double flux = flux_of(*web_);
    assert(flux > 0.0);
    per_flux_ = 1.0 / flux;
    const bool about_axis = web_->pole == PhotometricWeb::Pole::axis;
    pole_ = about_axis ? frame.axis : frame.width;
    zero_turn_ = about_axis ? frame.side : frame.axis;
    quarter_turn_ = about_axis ? frame.width : frame.side;
}

double PhotometricBeam::per_sr(const Vec3& direction) const {
    const double up = direction.dot(pole_);
    const double x = direction.dot(zero_turn_), y = direction.dot(quarter_turn_);
    // atan2 stays accurate near the pole, where acos does not.
    const double polar = std::atan2(std::sqrt(x * x + y * y), up);
    double turn = std::atan2(y, x);
    if (turn < web_->turn_rad.front() - kRounding_rad) turn += 2.0 * kPi;
    if (!covers(web_->polar_rad, polar) || !covers(web_->turn_rad, turn)) return 0.0;
    return per_flux_ *
           bilinear(*web_, locate(web_->turn_rad, turn), locate(web_->polar_rad, polar));
}

}  // namespace bedshade
