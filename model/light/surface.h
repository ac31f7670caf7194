// Refraction at the flat water surface: the exact path of light from a point in air to a point in
// water.
//
// Snell's law relates the two legs: with t = tan(angle in air), the ray lands at
//     r = h t + d t / sqrt(n^2 + (n^2 - 1) t^2),
// which rises with t and is concave, so Newton's rule from below approaches the one root without
// ever passing it and needs no bracket. Light spreads over the ring it lands on: with P = r /
// sin(angle in air) and Q = dr / d(angle in air), E = I T / (P Q). All lengths in metres.
#pragma once

#include <algorithm>
#include <cmath>

#include "model/base/geometry.h"
#include "model/light/fresnel.h"

namespace bedshade {

/// One path, without absorption: multiply by the transmittance of the water over `path_water_m`.
struct SurfacePath {
    double cos_air = 1.0;       ///< of the angle from the vertical, above the surface
    double sin_air = 0.0;       ///< same angle
    double cos_water = 1.0;     ///< below the surface; equals cos_air for a receptor in air
    double path_water_m = 0.0;  ///< length of the leg in water; 0 for a receptor in air
    double crossing_m = 0.0;    ///< horizontal distance from the source to the surface crossing
    double spreading_per_m2 =
        0.0;  ///< irradiance on a horizontal facet per intensity, T = 1; 0: unlit
    double transmittance = 1.0;  ///< of the surface, unpolarised (Fresnel)
};

/// Least height of a source above the water; the formula does not hold for a source in the water
/// [m].
inline constexpr double kLeastHeight_m = 1e-6;

/// Tangent of the angle in air of the path from height `h_m` > 0 to depth `d_m` >= 0 at lateral
/// distance `r_m` >= 0, index `n` >= 1: it lands within rounding (1e-15) of `r_m`.
inline double tangent_in_air(double h_m, double d_m, double r_m, double n) {
    const double n2 = n * n;
    const double bend = (n - 1.0) * (n + 1.0);
    // The derivative of r with respect to t is at most h + d/n, so this start is never past the
    // root.
    double t = r_m * n / (h_m * n + d_m);
    for (int i = 0; i < 60; ++i) {
        const double q = n2 + bend * t * t;
        const double per_q = 1.0 / q;
        const double leg = d_m * std::sqrt(q) * per_q;
        const double step = (r_m - (h_m + leg) * t) / (h_m + leg * n2 * per_q);
        t += step;
        // The remaining error is at most 1.5 (step/t)^2 of t, since |f''| t < 3 f'.
        if (std::abs(step) <= 1e-8 * t) break;
    }
    return t;
}

/// Straight path to a receptor in air, `drop_m` below the source; unlit from below.
inline SurfacePath path_in_air(double drop_m, double r_m) {
    SurfacePath path;
    path.crossing_m = r_m;
    if (!(drop_m > 0.0)) return path;
    const double distance2 = drop_m * drop_m + r_m * r_m;
    const double distance = std::sqrt(distance2);
    path.cos_air = path.cos_water = drop_m / distance;
    path.sin_air = r_m / distance;
    path.spreading_per_m2 = path.cos_air / distance2;
    return path;
}

/// Path from a source `h_m` above a flat surface (raised to `kLeastHeight_m`) to a receptor `d_m`
/// below it at horizontal distance `r_m` >= 0, in water of index `n` >= 1. A receptor at or above
/// the surface (d <= 0) gets the straight path through air. For n = 1 this is the inverse-square
/// law, cos^3 / (h + d)^2.
inline SurfacePath surface_path(double h_m, double d_m, double r_m, double n) {
    const double h = std::max(h_m, kLeastHeight_m);
    if (!(d_m > 0.0)) return path_in_air(h + d_m, r_m);
    const double t = tangent_in_air(h, d_m, r_m, n);
    const double sec2 = 1.0 + t * t;
    const double cos_air = 1.0 / std::sqrt(sec2);
    const double n_cos_water = std::sqrt(n * n + (n - 1.0) * (n + 1.0) * t * t) * cos_air;
    const double slant = d_m / n_cos_water;
    const double p = h * sec2 * cos_air + slant;
    const double q = h * sec2 + slant * cos_air * (n * n) / (n_cos_water * n_cos_water);
    SurfacePath path;
    path.cos_air = cos_air;
    path.sin_air = t * cos_air;
    path.cos_water = n_cos_water / n;
    path.path_water_m = slant * n;
    path.crossing_m = h * t;
    path.spreading_per_m2 = 1.0 / (p * q);
    path.transmittance = surface_transmittance(cos_air, path.cos_water, n);
    return path;
}

/// The same between two points in tank coordinates, with the surface at height `surface_z_m`.
inline SurfacePath surface_path(const Vec3& source_m, const Vec3& receptor_m, double surface_z_m,
                                double n) {
    const double dx = receptor_m.x() - source_m.x();
    const double dy = receptor_m.y() - source_m.y();
    return surface_path(source_m.z() - surface_z_m, surface_z_m - receptor_m.z(),
                        std::sqrt(dx * dx + dy * dy), n);
}

/// The point where the path crosses the surface. For a receptor in air there is none and the source
/// itself is returned, so that light always travels straight from the returned point.
inline Vec3 crossing_point(const Vec3& source_m, const Vec3& receptor_m, double surface_z_m,
                           const SurfacePath& path) {
    if (!(receptor_m.z() < surface_z_m)) return source_m;
    const double dx = receptor_m.x() - source_m.x();
    const double dy = receptor_m.y() - source_m.y();
    const double r = std::sqrt(dx * dx + dy * dy);
    const double share = r > 0.0 ? path.crossing_m / r : 0.0;
    return {source_m.x() + share * dx, source_m.y() + share * dy, surface_z_m};
}

/// Unit vector of the ray in air, away from the source: the direction for the lamp's intensity.
inline Vec3 direction_in_air(const Vec3& source_m, const Vec3& receptor_m,
                             const SurfacePath& path) {
    const double dx = receptor_m.x() - source_m.x();
    const double dy = receptor_m.y() - source_m.y();
    const double r = std::sqrt(dx * dx + dy * dy);
    const double share = r > 0.0 ? path.sin_air / r : 0.0;
    return {share * dx, share * dy, -path.cos_air};
}

/// Unit vector from the receptor back along the ray.
inline Vec3 direction_to_light(const Vec3& source_m, const Vec3& receptor_m, double n,
                               const SurfacePath& path) {
    const double dx = source_m.x() - receptor_m.x();
    const double dy = source_m.y() - receptor_m.y();
    const double r = std::sqrt(dx * dx + dy * dy);
    const double sin_here = path.path_water_m > 0.0 ? path.sin_air / n : path.sin_air;
    const double share = r > 0.0 ? sin_here / r : 0.0;
    return {share * dx, share * dy, path.cos_water};
}

/// Irradiance on a sphere (a scalar sensor) per intensity of the source, before absorption [1/m2].
inline double scalar_factor_per_m2(const SurfacePath& path) {
    return path.transmittance * path.spreading_per_m2 / path.cos_water;
}

/// Irradiance on a planar facet per intensity of the source, before absorption [1/m2]. `normal` and
/// `to_light` (`direction_to_light`) are unit vectors; 0 where the facet faces away. A point source
/// is a single ray at the receptor, so a tilted facet follows the cosine law.
inline double facet_factor_per_m2(const SurfacePath& path, const Vec3& normal,
                                  const Vec3& to_light) {
    return scalar_factor_per_m2(path) * std::max(0.0, normal.dot(to_light));
}

}  // namespace bedshade
