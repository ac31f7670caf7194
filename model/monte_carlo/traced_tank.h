// The tank as single photons meet it: solid and porous bodies, colours of the water and the panes.
#pragma once

#include <array>
#include <vector>

#include "model/base/random.h"
#include "model/light/spectrum.h"
#include "model/monte_carlo/triangle_bvh.h"
#include "model/reef/layout.h"
#include "model/reef/reef.h"

namespace bedshade::monte_carlo {

/// What a body counts as in the energy ledger.
enum class Stuff { rock, coral };

/// Something that stands in the tank, as a closed surface.
struct Body {
    TriangleMesh mesh;
    Stuff stuff = Stuff::rock;
    double reflectance = 0.0;  ///< diffuse; of a porous body: share of intercepted light scattered
    double extinction_per_m = 0.0;  ///< of a porous body, along a chord; 0: solid [1/m]
};

/// Everything the photon counter needs to know.
struct Scene {
    Tank tank;
    Water water;
    double sand_reflectance = 0.0;
    std::vector<Lamp> lamps;
    std::vector<Body> bodies;
};

/// The layout on one day, colonies as in `reef`: rock and opaque colonies as solids, branching ones
/// as canopies that stop photons with G a a metre, G = 0.5 (branches that point all ways; Monsi &
/// Saeki 1953, Jap. J. Bot. 14:22), a being the taxon's area in a unit volume.
Scene scene_of(const Layout& layout, const Reef& reef);

/// Optics of one wavelength band.
struct BandOptics {
    double absorbed_per_m = 0.0;
    double water_index = 1.34, glass_index = 1.52, acrylic_refractive_index = 1.49;
};
using OpticsByBand = std::array<BandOptics, kBands>;

/// Water and panes by wavelength. What turns light back counts as absorbed, as in
/// `attenuation_by_band_per_m`.
OpticsByBand optics_of(const Water& water);

/// Where a photon is stopped within porous bodies.
struct Interception {
    double distance_m = 0.0;
    double scattered = 0.0;  ///< share that is scattered rather than absorbed
};

/// The bodies as ray targets.
class Obstacles {
  public:
    explicit Obstacles(const std::vector<Body>& bodies);

    /// The first solid surface on the ray nearer than `within_m`.
    Meeting solid(const Ray& ray, double within_m) const { return solids_.nearest(ray, within_m); }
    const Body& body_of(const Meeting& met) const {
        return bodies_[static_cast<std::size_t>(solids_.body(met.triangle))];
    }
    /// Unit vector of the surface met, on the side the ray came from.
    Vec3 facing(const Meeting& met) const {
        return met.from_outside ? solids_.normal(met.triangle)
                                : Vec3(-solids_.normal(met.triangle));
    }

    /// Room to work in, kept by the caller from question to question.
    struct Room {
        std::vector<Meeting> met;
        std::vector<int> depth;  ///< by body: surfaces entered less surfaces left
    };
    /// Whether porous bodies stop the photon nearer than `within_m`, and where. Draws from `random`
    /// only if any lie ahead.
    bool intercepts(const Ray& ray, double within_m, RandomStream& random, Room& room,
                    Interception& out) const;

    /// No body reaches higher than this [m].
    double top_m() const { return top_m_; }

  private:
    const std::vector<Body>& bodies_;
    TriangleBvh solids_, canopies_;
    double top_m_ = 0.0;
};

}  // namespace bedshade::monte_carlo
