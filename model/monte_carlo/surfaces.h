// Interaction of one photon with a boundary: Fresnel reflection, Snell refraction, panes, and the
// two scattering laws.
//
// Independent of model/light on purpose: photon transport verifies the light field, so the two must
// not share errors.
#pragma once

#include "model/base/geometry.h"

namespace bedshade::monte_carlo {

/// A ray at the plane interface of two transparent media.
struct Interface {
    double cos_beyond = 0.0;     ///< of the refraction angle; 0 for total reflection
    double reflectance_s = 1.0;  ///< polarised across the plane of incidence (s)
    double reflectance_p = 1.0;  ///< polarised within the plane of incidence (p)

    bool total_reflection() const { return cos_beyond <= 0.0; }
    /// Of unpolarised light: polarisation is not tracked between events, as in the light field.
    double reflectance() const { return 0.5 * (reflectance_s + reflectance_p); }
};

/// Snell's law and Fresnel's equations for a ray in a medium of index `n_here` whose angle from the
/// boundary's normal has cosine `cos_here`, 0 to 1, toward a medium of index `n_beyond`. Beyond the
/// critical angle reflection is total.
Interface interface_optics(double cos_here, double n_here, double n_beyond);

/// Refractive indices from inside the tank through a pane into the room.
struct PaneIndices {
    double inside = 1.34, pane = 1.52, outside = 1.0;
};

/// Reflectance of a pane for unpolarised light: all reflections between its faces are summed as
/// intensities, for each polarisation separately (Stokes 1862, Proc. R. Soc. 11:545, from memory).
/// The pane does not absorb, so beyond the critical angle of inside to outside reflection is total.
double pane_reflectance_of(double cos_here, const PaneIndices& n);

/// Samples a direction by Lambert's law on the side of the unit vector `normal`, from two uniform
/// numbers: the normal plus a point of the unit sphere.
Vec3 lambertian(const Vec3& normal, double u, double v);

/// Samples a direction uniformly on the sphere.
Vec3 isotropic(double u, double v);

}  // namespace bedshade::monte_carlo
