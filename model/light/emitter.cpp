#include "model/light/emitter.h"

#include <algorithm>
#include <cassert>

#include "model/base/days.h"

namespace bedshade {

namespace {

/// Above this exponent repeated multiplication is no faster than std::pow.
constexpr int kMaxWholeExponent = 8;

int whole_exponent_of(double exponent) {
    const bool whole =
        exponent >= 0.0 && exponent <= kMaxWholeExponent && exponent == std::floor(exponent);
    return whole ? static_cast<int>(exponent) : -1;
}

}  // namespace

Emitter emitter_of(const Lamp& lamp) {
    const double cos_t = std::cos(lamp.tilt_rad), sin_t = std::sin(lamp.tilt_rad);
    const double cos_a = std::cos(lamp.azimuth_rad), sin_a = std::sin(lamp.azimuth_rad);
    Emitter emitter;
    emitter.centre_m = lamp.centre_m;
    emitter.axis = {sin_t * cos_a, sin_t * sin_a, -cos_t};
    // Leaning toward +x lifts the face's +x edge.
    const LampFrame frame{
        emitter.axis, {cos_t * cos_a, cos_t * sin_a, sin_t}, {-sin_a, cos_a, 0.0}};
    emitter.half_side_m = 0.5 * lamp.size_m.x() * frame.side;
    emitter.half_width_m = 0.5 * lamp.size_m.y() * frame.width;
    emitter.shape = lamp.shape;
    emitter.beam_exponent = lamp.beam_exponent;
    emitter.whole_exponent = whole_exponent_of(lamp.beam_exponent);
    emitter.peak_per_sr = (lamp.beam_exponent + 1.0) / (2.0 * kPi);
    if (lamp.web) emitter.measured = std::make_shared<PhotometricBeam>(lamp.web, frame);
    return emitter;
}

double beam_exponent(double half_angle_rad) {
    assert(half_angle_rad > 0.0 && half_angle_rad < 0.5 * kPi);
    return -std::log(2.0) / std::log(std::cos(half_angle_rad));
}

double photon_flux_umol_s(const Lamp& lamp, double day_d) {
    const double years = std::max(0.0, day_d) / kDaysPerYear;
    return lamp.photon_flux_umol_s * lamp.output * std::pow(1.0 - lamp.ageing_per_year, years);
}

std::vector<EmitterPoint> emitter_points(const Lamp& lamp, int count, double u, double v) {
    assert(count >= 1);
    const Emitter emitter = emitter_of(lamp);
    const int n = lamp.shape == LampShape::point ? 1 : count;
    std::vector<EmitterPoint> points(static_cast<std::size_t>(n));
    for (int k = 0; k < n; ++k)
        points[static_cast<std::size_t>(k)] = {emitter_point(emitter, k, n, u, v), 1.0 / n};
    return points;
}

}  // namespace bedshade
