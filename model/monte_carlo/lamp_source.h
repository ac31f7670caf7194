// Photon source of a lamp: samples position, direction and wavelength band of a photon.
#pragma once

#include <optional>

#include "model/light/spectrum.h"
#include "model/monte_carlo/web_sampler.h"
#include "model/reef/lamp.h"

namespace bedshade::monte_carlo {

class LampSource {
  public:
    explicit LampSource(const Lamp& lamp);

    /// A point on the emitting face, uniform by area, from two uniform numbers.
    Vec3 point_m(double u, double v) const;
    /// A direction with density (m + 1) / (2 pi) cos^m of the angle from the axis, 0 behind the
    /// face; or with the density of the lamp's measured web.
    Vec3 direction(double u, double v) const;
    /// The wavelength band of a photon, in proportion to the lamp's photons.
    int band(double u) const;

  private:
    Vec3 direction_in_web(double u, double v) const;

    Vec3 centre_m_;
    LampShape shape_;
    Vec2 half_size_m_;
    double beam_exponent_;
    std::optional<WebSampler> web_;  // instead of the exponent
    Vec3 axis_, side_, width_;       // unit vectors: the beam, and the face's two edges
    ByBand cumulative_;              // fraction of photons in this band and all before it
};

}  // namespace bedshade::monte_carlo
