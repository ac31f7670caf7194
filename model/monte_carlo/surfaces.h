// What happens to one photon at a boundary: Fresnel, Snell, panes, and the two ways of scattering.
//
// Written from the physics and apart from model/light on purpose: the photon counter is there to
// check the light field, so the two must not be able to be wrong together.
#pragma once

#include "model/base/geometry.h"

namespace bedshade::monte_carlo {

/// A ray that meets the plane boundary of two clear media.
struct Crossing {
    double cos_beyond = 0.0;   ///< of the refracted angle from the normal; 0 when there is none
    double back_across = 1.0;  ///< share turned back, polarised across the plane of incidence (s)
    double back_within = 1.0;  ///< the same, within it (p)

    bool total() const { return cos_beyond <= 0.0; }
    /// Of unpolarised light: each event starts unpolarised, as the light field takes it too.
    double back() const { return 0.5 * (back_across + back_within); }
};

/// Snell's law and Fresnel's equations for a ray in a medium of index `n_here` whose angle from the
/// boundary's normal has cosine `cos_here`, 0 to 1, toward a medium of index `n_beyond`. Beyond the
/// critical angle everything is turned back.
Crossing crossing(double cos_here, double n_here, double n_beyond);

/// Indices on the way from inside the tank through a pane into the room.
struct PaneIndices {
    double inside = 1.34, pane = 1.52, outside = 1.0;
};

/// Share of unpolarised light that a pane turns back, all bounces between its faces added up as
/// intensities, each polarisation by itself (Stokes 1862, Proc. R. Soc. 11:545, from memory). The
/// pane itself takes nothing, so beyond the critical angle of inside to outside all of it returns.
double pane_back(double cos_here, const PaneIndices& n);

/// A direction drawn by Lambert's law on the side the unit vector `normal` points to, from two
/// uniform numbers: the normal plus a point of the unit sphere.
Vec3 lambertian(const Vec3& normal, double u, double v);

/// A direction drawn evenly over the whole sphere.
Vec3 isotropic(double u, double v);

}  // namespace bedshade::monte_carlo
