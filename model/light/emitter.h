// Emission of a lamp: sample points on its face and the angular distribution of its intensity.
#pragma once

#include <cmath>
#include <memory>
#include <vector>

#include "model/base/geometry.h"
#include "model/light/photometric_beam.h"
#include "model/reef/lamp.h"

namespace bedshade {

/// A lamp's emitting face, precomputed for sampling.
struct Emitter {
    Vec3 centre_m = Vec3::Zero();
    Vec3 axis = -Vec3::UnitZ();        ///< unit vector of the beam
    Vec3 half_side_m = Vec3::Zero();   ///< from the centre to the middle of one side, or a radius
    Vec3 half_width_m = Vec3::Zero();  ///< the same across it
    LampShape shape = LampShape::point;
    double beam_exponent = 1.0;
    int whole_exponent = 1;    ///< beam_exponent where it is a small whole number, else -1
    double peak_per_sr = 0.0;  ///< intensity on the axis per photon flux: (m + 1) / (2 pi)
    std::shared_ptr<const PhotometricBeam> measured;  ///< the measured beam, instead of cos^m
};

/// The emitting face of a lamp. It is tilted toward the lamp's azimuth and rotated by the azimuth:
/// when both are 0, the axis points straight down and the sides lie along x and y.
Emitter emitter_of(const Lamp& lamp);

/// Exponent of a cos^m beam whose intensity falls to half at this angle from its axis:
/// m = -ln 2 / ln cos(half angle). Angle between 0 and pi/2, both excluded [rad].
double beam_exponent(double half_angle_rad);

/// Photon flux of the lamp at full output on a day [umol/s]: times its output fraction and its
/// ageing (a constant fraction of the remaining output each year).
double photon_flux_umol_s(const Lamp& lamp, double day_d);

/// Intensity of a part of the lamp that carries `flux_umol_s`, along the unit vector `direction`
/// (away from the lamp): I = flux (m + 1) / (2 pi) cos^m about the axis, 0 behind the face; or from
/// the measured beam. Its integral over all directions is the flux [umol s-1 sr-1].
inline double intensity_umol_s_sr(const Emitter& emitter, double flux_umol_s,
                                  const Vec3& direction) {
    if (emitter.measured) return flux_umol_s * emitter.measured->per_sr(direction);
    const double c = emitter.axis.dot(direction);
    if (!(c > 0.0)) return 0.0;
    double shape = 1.0;
    if (emitter.whole_exponent < 0)
        shape = std::pow(c, emitter.beam_exponent);
    else
        for (int i = 0; i < emitter.whole_exponent; ++i) shape *= c;
    return flux_umol_s * emitter.peak_per_sr * shape;
}

/// Point `k` of `n` on the face, all of equal weight. `u` and `v` in [0, 1) shift the whole set:
/// over uniform random shifts every point of the face is equally likely, so a mean over the points
/// is unbiased. The set has n strips of equal area with one point in each, distributed along the
/// strips by the golden ratio (for a disc the strips are rings: a sunflower, Vogel 1979).
inline Vec3 emitter_point(const Emitter& emitter, int k, int n, double u, double v) {
    if (emitter.shape == LampShape::point) return emitter.centre_m;
    constexpr double kGolden = 0.6180339887498949;
    const double a = (k + u) / n;
    double b = v + k * kGolden;
    b -= std::floor(b);
    if (emitter.shape == LampShape::rectangle)
        return emitter.centre_m + (2.0 * a - 1.0) * emitter.half_side_m +
               (2.0 * b - 1.0) * emitter.half_width_m;
    const double radius = std::sqrt(a);
    return emitter.centre_m + radius * std::cos(2.0 * kPi * b) * emitter.half_side_m +
           radius * std::sin(2.0 * kPi * b) * emitter.half_width_m;
}

/// A point of a lamp and its fraction of the lamp's flux.
struct EmitterPoint {
    Vec3 position_m = Vec3::Zero();
    double share = 1.0;
};

/// The points of `emitter_point`, all `count` (>= 1) of them; a point lamp gives one.
std::vector<EmitterPoint> emitter_points(const Lamp& lamp, int count, double u, double v);

}  // namespace bedshade
