#include "model/monte_carlo/lamp_source.h"

#include <algorithm>
#include <cmath>
#include <numeric>

namespace bedshade::monte_carlo {

LampSource::LampSource(const Lamp& lamp)
    : centre_m_(lamp.centre_m),
      shape_(lamp.shape),
      half_size_m_(0.5 * lamp.size_m),
      beam_exponent_(lamp.beam_exponent) {
    // The horizontal face, with sides along x and y, is tilted so that the beam turns toward +x,
    // then rotated about the vertical by the azimuth.
    const double ct = std::cos(lamp.tilt_rad), st = std::sin(lamp.tilt_rad);
    const double ca = std::cos(lamp.azimuth_rad), sa = std::sin(lamp.azimuth_rad);
    const auto rotated = [&](double x, double y, double z) {
        return Vec3(ca * x - sa * y, sa * x + ca * y, z);
    };
    axis_ = rotated(st, 0.0, -ct);
    side_ = rotated(ct, 0.0, st);
    width_ = rotated(0.0, 1.0, 0.0);
    if (lamp.web) web_.emplace(lamp.web);
    const Spectrum spectrum = spectrum_of(lamp);
    std::partial_sum(spectrum.share.begin(), spectrum.share.end(), cumulative_.begin());
}

Vec3 LampSource::point_m(double u, double v) const {
    double along = 0.0, across = 0.0;
    if (shape_ == LampShape::rectangle) {
        along = 2.0 * u - 1.0;
        across = 2.0 * v - 1.0;
    } else if (shape_ == LampShape::disc) {
        along = std::sqrt(u) * std::cos(2.0 * kPi * v);
        across = std::sqrt(u) * std::sin(2.0 * kPi * v);
    }
    return centre_m_ + along * half_size_m_.x() * side_ + across * half_size_m_.y() * width_;
}

Vec3 LampSource::direction_in_web(double u, double v) const {
    const auto [turn, polar] = web_->sample(u, v);
    const double along = std::sin(polar) * std::cos(turn);
    const double across = std::sin(polar) * std::sin(turn);
    if (web_->pole() == PhotometricWeb::Pole::axis)
        return along * side_ + across * width_ + std::cos(polar) * axis_;
    return along * axis_ + across * side_ + std::cos(polar) * width_;
}

Vec3 LampSource::direction(double u, double v) const {
    if (web_) return direction_in_web(u, v);
    const double c = std::pow(u, 1.0 / (beam_exponent_ + 1.0));
    const double s = std::sqrt((1.0 - c) * (1.0 + c));
    const double angle = 2.0 * kPi * v;
    return s * std::cos(angle) * side_ + s * std::sin(angle) * width_ + c * axis_;
}

int LampSource::band(double u) const {
    const auto at =
        std::upper_bound(cumulative_.begin(), cumulative_.end() - 1, u * cumulative_.back());
    return static_cast<int>(at - cumulative_.begin());
}

}  // namespace bedshade::monte_carlo
