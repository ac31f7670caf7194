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

/// Reflectance of two parallel faces for one polarisation.
double slab_reflectance(double first, double second) {
    const double escaping = 1.0 - first * second;
    // Grazing light: both faces reflect all of it.
    if (escaping <= 0.0) return 1.0;
    return first + squared(1.0 - first) * second / escaping;
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
    // The closed form loses precision as n approaches 1, where the reflectance goes to 0.
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

double pane_reflectance(double cos_inside, const Pane& pane) {
    const double cos_pane = refracted_cosine(cos_inside, pane.inside_index, pane.pane_index);
    if (cos_pane <= 0.0 || cos_inside <= 0.0) return 1.0;
    const Polarised inner = fresnel(cos_inside, pane.inside_index, pane.pane_index);
    const Polarised outer = fresnel(cos_pane, pane.pane_index, 1.0);
    return 0.5 * (slab_reflectance(inner.s, outer.s) + slab_reflectance(inner.p, outer.p));
}

}  // namespace bedshade
