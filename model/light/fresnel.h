// Fresnel reflectance of smooth interfaces: the water surface and panes of glass.
//
// Fresnel's equations for dielectrics without absorption; unpolarised light unless stated
// otherwise. `n` is always the index of water relative to air, at least 1.
#pragma once

namespace bedshade {

/// Reflectances of the two polarisations: across (s) and within (p) the plane of incidence.
struct Polarised {
    double s = 0.0, p = 0.0;

    double mean() const { return 0.5 * (s + p); }
};

/// Fresnel reflectance of light in a medium of index `n1` at the interface to one of index `n2`, at
/// an angle whose cosine is `cos_1`, 0 to 1. Beyond the critical angle both are exactly 1.
Polarised fresnel(double cos_1, double n1, double n2);

/// Reflectance of the surface for unpolarised light from the air.
inline double air_to_water_reflectance(double cos_air, double n) {
    return fresnel(cos_air, 1.0, n).mean();
}

/// Reflectance of the surface for unpolarised light from the water.
inline double water_to_air_reflectance(double cos_water, double n) {
    return fresnel(cos_water, n, 1.0).mean();
}

/// Transmittance of the surface on a path with these two angles (of one ray, in either direction).
/// Equal to 1 - `air_to_water_reflectance`, with one division and without cancellation near
/// grazing: T = 2 n ca cw (1/(ca + n cw)^2 + 1/(n ca + cw)^2).
inline double surface_transmittance(double cos_air, double cos_water, double n) {
    const double s = cos_air + n * cos_water;
    const double p = n * cos_air + cos_water;
    const double sp = s * p;
    return 2.0 * n * cos_air * cos_water * (s * s + p * p) / (sp * sp);
}

/// Critical angle of total internal reflection in water, from the surface normal [rad].
double critical_angle_rad(double n);

/// Reflectance of the surface for uniform diffuse light from above (cosine-weighted). Closed form
/// for n > 1 (the integral of Fresnel's equations; from memory, checked by quadrature).
double diffuse_air_to_water_reflectance(double n);

/// The same for uniform diffuse light from below. By reciprocity 1 - (1 - R_air) / n^2.
double diffuse_water_to_air_reflectance(double n);

/// A pane without absorption, between the tank's water (or the air above it) and the air of the
/// room.
struct Pane {
    double inside_index = 1.34;  ///< of the medium inside: water, or 1 where the pane is dry
    double pane_index = 1.52;
};

/// Reflectance of a pane (both faces together) for unpolarised light from inside whose angle from
/// the pane's normal has cosine `cos_inside`. All reflections within the pane are summed as
/// intensities, for each polarisation separately (Stokes 1862). Because the faces are parallel,
/// light beyond the critical angle of water to air is totally reflected whatever the pane.
double pane_reflectance(double cos_inside, const Pane& pane);

}  // namespace bedshade
