// The tank for photon transport: solid and porous bodies, spectral optics of water and panes.
#pragma once

#include <array>
#include <vector>

#include "model/base/random.h"
#include "model/light/spectrum.h"
#include "model/monte_carlo/triangle_bvh.h"
#include "model/reef/layout.h"
#include "model/reef/reef.h"

namespace bedshade::monte_carlo {

/// Class of a body in the energy balance.
enum class Material { rock, coral };

/// A body in the tank, as a closed surface.
struct Body {
    TriangleMesh mesh;
    Material material = Material::rock;
    double reflectance =
        0.0;  ///< diffuse; of a porous body: fraction of intercepted light that is scattered
    double extinction_per_m = 0.0;  ///< of a porous body, along a chord; 0: solid [1/m]
};

/// Input of the photon transport.
struct Scene {
    Tank tank;
    Water water;
    double sand_reflectance = 0.0;
    std::vector<Lamp> lamps;
    std::vector<Body> bodies;
};

/// The layout on one day, colonies as in `reef`: rock and opaque colonies as solids, branching ones
/// as porous canopies with extinction G a, G = 0.5 (randomly oriented branches; Monsi & Saeki 1953,
/// Jap. J. Bot. 14:22), where a is the taxon's area per volume.
Scene scene_of(const Layout& layout, const Reef& reef);

/// Optics of one wavelength band.
struct BandOptics {
    double absorbed_per_m = 0.0;
    double water_index = 1.34, glass_index = 1.52, acrylic_refractive_index = 1.49;
};
using OpticsByBand = std::array<BandOptics, kBands>;

/// Water and panes by wavelength. Backscattered light counts as absorbed, as in
/// `attenuation_by_band_per_m`.
OpticsByBand optics_of(const Water& water);

/// Interception of a photon inside porous bodies.
struct Interception {
    double distance_m = 0.0;
    double scattered = 0.0;  ///< probability of scattering rather than absorption
};

/// The bodies as ray targets.
class Obstacles {
  public:
    explicit Obstacles(const std::vector<Body>& bodies);

    /// The first solid surface on the ray nearer than `within_m`.
    Hit solid(const Ray& ray, double within_m) const { return solids_.nearest(ray, within_m); }
    const Body& body_of(const Hit& hit) const {
        return bodies_[static_cast<std::size_t>(solids_.body(hit.triangle))];
    }
    /// Unit normal of the surface hit, on the side the ray came from.
    Vec3 facing_normal(const Hit& hit) const {
        return hit.from_outside ? solids_.normal(hit.triangle)
                                : Vec3(-solids_.normal(hit.triangle));
    }

    /// Buffers that the caller reuses between calls.
    struct Workspace {
        std::vector<Hit> hit;
        std::vector<int> depth;  ///< by body: surfaces entered less surfaces left
    };
    /// Whether porous bodies intercept the photon nearer than `within_m`, and where. Samples
    /// `random` only if any porous body lies ahead.
    bool intercepts(const Ray& ray, double within_m, RandomStream& random, Workspace& workspace,
                    Interception& out) const;

    /// No body reaches higher than this [m].
    double top_m() const { return top_m_; }

  private:
    const std::vector<Body>& bodies_;
    TriangleBvh solids_, canopies_;
    double top_m_ = 0.0;
};

}  // namespace bedshade::monte_carlo
