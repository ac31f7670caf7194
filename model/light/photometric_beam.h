// Measured beam of a lamp in the tank: its intensity in any direction, from a photometric web.
#pragma once

#include <memory>

#include "model/base/geometry.h"
#include "model/reef/photometric_web.h"

namespace bedshade {

/// Unit vectors of a lamp in tank coordinates: the axis of its beam and the two edges of its face.
struct LampFrame {
    Vec3 axis = -Vec3::UnitZ();
    Vec3 side = Vec3::UnitX();
    Vec3 width = Vec3::UnitY();
};

class PhotometricBeam {
  public:
    PhotometricBeam(std::shared_ptr<const PhotometricWeb> web, const LampFrame& frame);

    /// Fraction of the lamp's flux per steradian along the unit vector `direction`. Its integral
    /// over the whole sphere is 1, so the part of the web that points upward is lost to the tank.
    double per_sr(const Vec3& direction) const;

  private:
    std::shared_ptr<const PhotometricWeb> web_;
    double per_flux_;  // scales the web to unit flux
    Vec3 pole_, zero_turn_,
        quarter_turn_;  // `turn` is measured about the pole from zero_turn_ toward quarter_turn_
};

/// The web's intensity integrated over all directions: lumens where it is in candela. Exact for the
/// bilinear web: over a cell from polar angle a to b, intensity A + B p integrates to A (cos a -
/// cos b) + B [sin p - p cos p] from a to b, times the turn.
double flux_of(const PhotometricWeb& web);

/// The part of the flux with a polar angle between two bounds.
double flux_between(const PhotometricWeb& web, double polar_low_rad, double polar_high_rad);

/// Fraction of the web's flux that leaves behind the lamp's face, more than a right angle from its
/// axis.
double backward_fraction(const PhotometricWeb& web);

}  // namespace bedshade
