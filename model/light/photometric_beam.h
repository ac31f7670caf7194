// A measured beam of a lamp that hangs somewhere: its intensity in any direction of the tank.
#pragma once

#include <memory>

#include "model/base/geometry.h"
#include "model/reef/photometric_web.h"

namespace bedshade {

/// Unit vectors of a lamp in the tank: the middle of its beam, and the two edges of its face.
struct LampFrame {
    Vec3 axis = -Vec3::UnitZ();
    Vec3 side = Vec3::UnitX();
    Vec3 width = Vec3::UnitY();
};

class PhotometricBeam {
  public:
    PhotometricBeam(std::shared_ptr<const PhotometricWeb> web, const LampFrame& frame);

    /// Share of the lamp's flux that leaves along the unit vector `direction`, for each steradian:
    /// it sums to 1 over the whole sphere, so what the web sends upward is lost to the tank.
    double per_sr(const Vec3& direction) const;

  private:
    std::shared_ptr<const PhotometricWeb> web_;
    double per_flux_;             // scales the web to unit flux
    Vec3 pole_, start_, onward_;  // turn counts about the pole from start_ toward onward_
};

/// The web's intensity summed over all directions: lumens where it is in candela. Exact for the
/// bilinear web: over a cell from polar angle a to b, intensity A + B p sums to
/// A (cos a - cos b) + B [sin p - p cos p] from a to b, times the turn.
double flux_of(const PhotometricWeb& web);

/// The part of it whose polar angle lies between two bounds.
double flux_between(const PhotometricWeb& web, double polar_low_rad, double polar_high_rad);

/// Share of the web's flux that leaves behind the lamp's face, more than a right angle from its
/// axis.
double share_behind(const PhotometricWeb& web);

}  // namespace bedshade
