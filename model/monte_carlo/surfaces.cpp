#include "model/monte_carlo/surfaces.h"

#include <cmath>

namespace bedshade::monte_carlo {
namespace {

double square(double x) { return x * x; }

/// What two faces turn back together when the first turns back `first` and the second `second`.
double both(double first, double second) {
    return first + square(1.0 - first) * second / (1.0 - first * second);
}

}  // namespace

Crossing crossing(double cos_here, double n_here, double n_beyond) {
    const double sin2_beyond = (1.0 - square(cos_here)) * square(n_here / n_beyond);
    Crossing met;
    if (sin2_beyond >= 1.0 || cos_here <= 0.0) return met;
    const double c1 = cos_here, c2 = std::sqrt(1.0 - sin2_beyond);
    met.cos_beyond = c2;
    met.back_across = square((n_here * c1 - n_beyond * c2) / (n_here * c1 + n_beyond * c2));
    met.back_within = square((n_here * c2 - n_beyond * c1) / (n_here * c2 + n_beyond * c1));
    return met;
}

double pane_back(double cos_here, const PaneIndices& n) {
    const Crossing first = crossing(cos_here, n.inside, n.pane);
    if (first.total()) return 1.0;
    const Crossing second = crossing(first.cos_beyond, n.pane, n.outside);
    if (second.total()) return 1.0;
    return 0.5 * (both(first.back_across, second.back_across) +
                  both(first.back_within, second.back_within));
}

Vec3 isotropic(double u, double v) {
    const double z = 2.0 * u - 1.0;
    const double r = std::sqrt((1.0 - z) * (1.0 + z));
    const double angle = 2.0 * kPi * v;
    return {r * std::cos(angle), r * std::sin(angle), z};
}

Vec3 lambertian(const Vec3& normal, double u, double v) {
    // Chords from the south pole of a sphere that touches the surface end evenly over the sphere
    // when their directions follow the cosine law.
    const Vec3 chord = normal + isotropic(u, v);
    const double length = chord.norm();
    return length > 1e-9 ? Vec3(chord / length) : normal;
}

}  // namespace bedshade::monte_carlo
