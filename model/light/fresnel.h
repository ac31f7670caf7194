// How much light a smooth interface throws back: the water surface, and panes of glass.
//
// Fresnel's equations for dielectrics that do not absorb, unpolarised unless said otherwise. `n` is
// always the index of water relative to air, at least 1.
#pragma once

namespace bedshade {

/// Reflectances of the two polarisations: across (s) and within (p) the plane of incidence.
struct Polarised {
    double s = 0.0, p = 0.0;

    double mean() const { return 0.5 * (s + p); }
};

/// Fresnel reflectance of light in a medium of index `n1` that meets one of index `n2` at an angle
/// whose cosine is `cos_1`, 0 to 1. Beyond the critical angle both are exactly 1.
Polarised fresnel(double cos_1, double n1, double n2);

/// Share of unpolarised light turned back at the surface, coming from the air.
inline double air_to_water_reflectance(double cos_air, double n) {
    return fresnel(cos_air, 1.0, n).mean();
}

/// Share of unpolarised light turned back at the surface, coming from the water.
inline double water_to_air_reflectance(double cos_water, double n) {
    return fresnel(cos_water, n, 1.0).mean();
}

/// Share let through the surface on a path with these two angles (of one ray, either way along it).
/// The same as one less `air_to_water_reflectance`, in one division and without its cancellation
/// near grazing: T = 2 n ca cw (1/(ca + n cw)^2 + 1/(n ca + cw)^2).
inline double surface_transmittance(double cos_air, double cos_water, double n) {
    const double s = cos_air + n * cos_water;
    const double p = n * cos_air + cos_water;
    const double sp = s * p;
    return 2.0 * n * cos_air * cos_water * (s * s + p * p) / (sp * sp);
}

/// Angle in water beyond which nothing leaves through the surface, from its normal [rad].
double critical_angle_rad(double n);

/// Reflectance of the surface for light that comes evenly from all the sky (cosine-weighted).
/// Closed form for n > 1 (the integral of Fresnel's equations; from memory, checked by quadrature).
double diffuse_air_to_water_reflectance(double n);

/// The same for light that comes evenly from below. By reciprocity 1 - (1 - R_air) / n^2.
double diffuse_water_to_air_reflectance(double n);

/// A pane, which absorbs nothing, between the tank's water or the air over it and the room's air.
struct Pane {
    double inside_index = 1.34;  ///< of the water; 1 where the pane is dry
    double pane_index = 1.52;
};

/// Share of light turned back inside by both faces of a pane, for unpolarised light whose angle
/// from the pane's normal has cosine `cos_inside`. All bounces within the pane are summed as
/// intensities, each polarisation by itself (Stokes 1862). Both faces being parallel, light beyond
/// the critical angle of water to air is wholly returned whatever the pane.
double pane_reflectance(double cos_inside, const Pane& pane);

}  // namespace bedshade
