// Closed forms of radiation view factors, for checking light against geometry that has an answer.
//
// Siegel & Howell, Thermal Radiation Heat Transfer, and Howell's catalogue of configuration factors
// (forms from memory, each checked by quadrature).
#pragma once

#include <cmath>

#include "model/base/geometry.h"

namespace bedshade::view_factors {

/// From disc 1 to a parallel, coaxial disc 2 at distance h.
inline double coaxial_discs(double r1, double r2, double h) {
    const double a = r1 / h, b = r2 / h;
    const double x = 1 + (1 + b * b) / (a * a);
    return 0.5 * (x - std::sqrt(x * x - 4 * (b / a) * (b / a)));
}

/// From a level element to a parallel disc of radius r at height h whose axis is `a` to the side:
/// the share of an even Lambertian sky that the disc covers.
inline double element_to_disc(double h, double a, double r) {
    if (a == 0) return r * r / (r * r + h * h);
    const double height = h / a, radius = r / a;
    const double z = 1 + height * height + radius * radius;
    return 0.5 *
           (1 - (1 + height * height - radius * radius) / std::sqrt(z * z - 4 * radius * radius));
}

/// Between two aligned equal rectangles a by b at distance c.
inline double parallel_rectangles(double a, double b, double c) {
    const double x = a / c, y = b / c;
    const double x1 = std::sqrt(1 + x * x), y1 = std::sqrt(1 + y * y);
    const double log_part = 0.5 * std::log(x1 * x1 * y1 * y1 / (1 + x * x + y * y));
    const double cross = x * y1 * std::atan(x / y1) + y * x1 * std::atan(y / x1);
    return 2 / (kPi * x * y) * (log_part + cross - x * std::atan(x) - y * std::atan(y));
}

/// From a rectangle l by w to a perpendicular one l by h along a common edge l.
inline double perpendicular_rectangles(double h_over_l, double w_over_l) {
    const double h = h_over_l, w = w_over_l;
    const double h2 = h * h, w2 = w * w, both = std::sqrt(h2 + w2);
    const double arcs = w * std::atan(1 / w) + h * std::atan(1 / h) - both * std::atan(1 / both);
    const double logs = std::log((1 + w2) * (1 + h2) / (1 + w2 + h2)) +
                        w2 * std::log(w2 * (1 + w2 + h2) / ((1 + w2) * (w2 + h2))) +
                        h2 * std::log(h2 * (1 + h2 + w2) / ((1 + h2) * (h2 + w2)));
    return (arcs + 0.25 * logs) / (kPi * w);
}

/// From a level element to a parallel rectangle a by b at height c with one corner above it.
inline double element_to_corner(double a, double b, double c) {
    const double x = a / c, y = b / c;
    const double x1 = std::sqrt(1 + x * x), y1 = std::sqrt(1 + y * y);
    return (x / x1 * std::atan(y / x1) + y / y1 * std::atan(x / y1)) / (2 * kPi);
}

/// Radius of the full shadow, and of the edge of the half shadow, `z` below an occluding disc
/// `occluder_r` that hangs `gap` under a lamp disc `lamp_r`.
inline double umbra_radius(double lamp_r, double occluder_r, double gap, double z) {
    return occluder_r - z * (lamp_r - occluder_r) / gap;
}
inline double penumbra_radius(double lamp_r, double occluder_r, double gap, double z) {
    return occluder_r + z * (lamp_r + occluder_r) / gap;
}

}  // namespace bedshade::view_factors
