// Directions drawn from a photometric web, as often as it sends light there.
#pragma once

#include <memory>
#include <vector>

#include "model/reef/photometric_web.h"

namespace bedshade::monte_carlo {

/// By inversion: first the turn, whose density runs straight from plane to plane, then the polar
/// angle in the blend of the two planes beside it.
class WebSampler {
  public:
    explicit WebSampler(std::shared_ptr<const PhotometricWeb> web);

    struct Angles {
        double turn_rad = 0.0, polar_rad = 0.0;
    };
    /// From two uniform numbers.
    Angles draw(double u, double v) const;

    PhotometricWeb::Pole pole() const { return web_->pole; }

  private:
    /// A plane of the web between two of its planes.
    struct Blend {
        std::size_t plane = 0;
        double share = 0.0;  ///< of the plane after it
    };
    double intensity(Blend blend, std::size_t polar) const;
    double up_to(Blend blend, std::size_t polar) const;
    Blend draw_plane(double u) const;
    double draw_polar_rad(Blend blend, double v) const;

    std::shared_ptr<const PhotometricWeb> web_;
    std::vector<double> up_to_;       // [turn][polar]: light of a plane up to that polar angle
    std::vector<double> turn_up_to_;  // [turn]: light of all planes up to that turn
};

}  // namespace bedshade::monte_carlo
