#include "model/monte_carlo/surfaces.h"

#include <cmath>

namespace bedshade::monte_carlo {
namespace {

double square(double x) { return x * x; }

/// Reflectance of two faces together, from those of the first and the second.
double two_face_reflectance(double first, double second) {
    return first + square(1.0 - first) * second / (1.0 - first * second);
}

}  // namespace

Interface interface_optics(double cos_here, double n_here, double n_beyond) {
    const double sin2_beyond = (1.0 - square(cos_here)) * square(n_here / n_beyond);
    Interface hit;
    if (sin2_beyond >= 1.0 || cos_here <= 0.0) return hit;
    const double c1 = cos_here, c2 = std::sqrt(1.0 - sin2_beyond);
    hit.cos_beyond = c2;
    hit.reflectance_s = square((n_here * c1 - n_beyond * c2) / (n_here * c1 + n_beyond * c2));
    hit.reflectance_p = square((n_here * c2 - n_beyond * c1) / (n_here * c2 + n_beyond * c1));
    return hit;
}

double pane_reflectance_of(double cos_here, const PaneIndices& n) {
    const Interface first = interface_optics(cos_here, n.inside, n.pane);
    if (first.total_reflection()) return 1.0;
    const Interface second = interface_optics(first.cos_beyond, n.pane, n.outside);
    if (second.total_reflection()) return 1.0;
    return 0.5 * (two_face_reflectance(first.reflectance_s, second.reflectance_s) +
                  two_face_reflectance(first.reflectance_p, second.reflectance_p));
}

Vec3 isotropic(double u, double v) {
    const double z = 2.0 * u - 1.0;
    const double r = std::sqrt((1.0 - z) * (1.0 + z));
    const double angle = 2.0 * kPi * v;
    return {r * std::cos(angle), r * std::sin(angle), z};
}

Vec3 lambertian(const Vec3& normal, double u, double v) {
    // For a sphere that touches the surface, chords from the point of contact with
    // cosine-distributed directions end uniformly on the sphere.
    const Vec3 chord = normal + isotropic(u, v);
    const double length = chord.norm();
    return length > 1e-9 ? Vec3(chord / length) : normal;
}

}  // namespace bedshade::monte_carlo
