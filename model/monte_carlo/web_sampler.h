// Samples directions from a photometric web (inverse transform sampling).
#pragma once

#include <memory>
#include <vector>

#include "model/reef/photometric_web.h"

namespace bedshade::monte_carlo {

/// By inversion of the cumulative distribution: first the turn, whose density is linear between
/// planes, then the polar angle in the interpolation of the two planes beside it.
class WebSampler {
  public:
    explicit WebSampler(std::shared_ptr<const PhotometricWeb> web);

    struct Angles {
        double turn_rad = 0.0, polar_rad = 0.0;
    };
    /// From two uniform numbers.
    Angles sample(double u, double v) const;

    PhotometricWeb::Pole pole() const { return web_->pole; }

  private:
    /// Interpolation between two planes of the web.
    struct Blend {
        std::size_t plane = 0;
        double share = 0.0;  ///< weight of the next plane
    };
    double intensity(Blend blend, std::size_t polar) const;
    double cumulative(Blend blend, std::size_t polar) const;
    Blend sample_plane(double u) const;
    double sample_polar_rad(Blend blend, double v) const;

    std::shared_ptr<const PhotometricWeb> web_;
    std::vector<double>
        cumulative_;  // [turn][polar]: cumulative flux of a plane up to that polar angle
    std::vector<double> cumulative_turn_;  // [turn]: cumulative flux of all planes up to that turn
};

}  // namespace bedshade::monte_carlo
