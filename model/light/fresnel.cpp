#include "model/light/fresnel.h"

#include <algorithm>
#include <cmath>

namespace bedshade {

namespace {

/// Cosine of the refracted angle, or 0 where the light is totally reflected.
double refracted_cosine(double cos_1, double n1, double n2) {
    const double sin2 = (1.0 - cos_1 * cos_1) * (n1 * n1) / (n2 * n2);
    return sin2 >= 1.0 ? 0.0 : std::sqrt(1.0 - sin2);
}

double squared(double x) { return x * x; }

/// Intensity returned by two parallel faces of one polarisation; `through` is left by one crossing.
double two_faces(double first, double second, double through) {
    const double round_trip = through * through;
    const double trapped = 1.0 - first * second * round_trip;
    // Grazing light on a clear pane: both faces return all of it.
    if (trapped <= 0.0) return 1.0;
    return first + squared(1.0 - first) * second * round_trip / trapped;
}

}  // namespace

Polarised fresnel(double cos_1, double n1, double n2) {
    const double cos_2 = refracted_cosine(cos_1, n1, n2);
    if (cos_2 <= 0.0 || cos_1 <= 0.0) return {1.0, 1.0};
    return {squared((n1 * cos_1 - n2 * cos_2) / (n1 * cos_1 + n2 * cos_2)),
            squared((n1 * cos_2 - n2 * cos_1) / (n1 * cos_2 + n2 * cos_1))};
}

double critical_angle_rad(double n) { return std::asin(std::min(1.0, 1.0 / n)); }

double diffuse_air_to_water_reflectance(double n) {
    // The closed form loses its digits as n nears 1, where the reflectance goes to nothing.
    if (n - 1.0 < 1e-6) return 0.0;
    const double n2 = n * n;
    const double n4 = n2 * n2;
    const double plain = 0.5 + (n - 1.0) * (3.0 * n + 1.0) / (6.0 * squared(n + 1.0));
    const double first_log =
        n2 * squared(n2 - 1.0) / (squared(n2 + 1.0) * (n2 + 1.0)) * std::log((n - 1.0) / (n + 1.0));
    const double ratio = 2.0 * n * n2 * (n2 + 2.0 * n - 1.0) / ((n2 + 1.0) * (n4 - 1.0));
    const double second_log =
        8.0 * n4 * (n4 + 1.0) / ((n2 + 1.0) * squared(n4 - 1.0)) * std::log(n);
    return plain + first_log - ratio + second_log;
}

double diffuse_water_to_air_reflectance(double n) {
    return 1.0 - (1.0 - diffuse_air_to_water_reflectance(n)) / (n * n);
}

double pane_reflectance(double cos_water, const Pane& pane) {
    const double cos_pane = refracted_cosine(cos_water, pane.water_index, pane.pane_index);
    if (cos_pane <= 0.0 || cos_water <= 0.0) return 1.0;
    const double through = std::pow(pane.normal_transmittance, 1.0 / cos_pane);
    const Polarised wet = fresnel(cos_water, pane.water_index, pane.pane_index);
    const Polarised dry = fresnel(cos_pane, pane.pane_index, 1.0);
    return 0.5 * (two_faces(wet.s, dry.s, through) + two_faces(wet.p, dry.p, through));
}

}  // namespace bedshade
