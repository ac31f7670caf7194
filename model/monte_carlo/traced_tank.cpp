#include "model/monte_carlo/traced_tank.h"

#include <algorithm>
#include <cmath>

#include "model/growth/forms.h"
#include "model/light/refractive_index.h"
#include "model/light/rock_mesh.h"
#include "model/light/water_optics.h"
#include "model/reef/reflectance.h"

namespace bedshade::monte_carlo {
namespace {

constexpr double kLeafProjection = 0.5;  // G of randomly oriented branches

/// Extinction and scattering of all canopies that contain a point.
struct Mixture {
    double extinction_per_m = 0.0, scattered = 0.0;
};

Mixture mixture(const std::vector<Body>& bodies, const std::vector<int>& depth) {
    Mixture sum;
    for (std::size_t b = 0; b < bodies.size(); ++b) {
        if (depth[b] <= 0) continue;
        sum.extinction_per_m += bodies[b].extinction_per_m;
        sum.scattered += bodies[b].extinction_per_m * bodies[b].reflectance;
    }
    if (sum.extinction_per_m > 0.0) sum.scattered /= sum.extinction_per_m;
    return sum;
}

}  // namespace

Scene scene_of(const Layout& layout, const Reef& reef) {
    Scene scene{layout.tank, layout.water, layout.substrate.reflectance, layout.lamps, {}};
    for (const Rock& rock : layout.rocks)
        scene.bodies.push_back({rock_mesh(rock), Material::rock, rock.reflectance, 0.0});
    for (std::size_t i = 0; i < layout.colonies.size(); ++i) {
        if (!reef.colonies[i].present) continue;
        const Colony& colony = layout.colonies[i];
        const Taxon& taxon = layout.taxon_of(colony);
        scene.bodies.push_back({mesh_of(shape_of(taxon, colony, reef.colonies[i])), Material::coral,
                                kTissueReflectance, kLeafProjection * taxon.canopy_m2_per_m3});
    }
    return scene;
}

OpticsByBand optics_of(const Water& water) {
    const ByBand absorbed_per_m = attenuation_by_band_per_m(water);
    OpticsByBand optics;
    for (int b = 0; b < kBands; ++b) {
        const auto i = static_cast<std::size_t>(b);
        optics[i].absorbed_per_m = std::max(0.0, absorbed_per_m[i]);
        optics[i].water_index = refractive_index(water, band_nm(b));
        optics[i].glass_index = float_glass_refractive_index(band_nm(b));
        optics[i].acrylic_refractive_index = acrylic_refractive_index(band_nm(b));
    }
    return optics;
}

Obstacles::Obstacles(const std::vector<Body>& bodies) : bodies_(bodies) {
    for (std::size_t b = 0; b < bodies.size(); ++b)
        (bodies[b].extinction_per_m > 0.0 ? canopies_ : solids_)
            .add(bodies[b].mesh, static_cast<int>(b));
    solids_.build();
    canopies_.build();
    top_m_ = std::max(solids_.bounds().max.z(), canopies_.bounds().max.z());
}

bool Obstacles::intercepts(const Ray& ray, double within_m, RandomStream& random,
                           Workspace& workspace, Interception& out) const {
    workspace.hit.clear();
    canopies_.all(ray, workspace.hit);
    if (workspace.hit.empty()) return false;
    std::sort(workspace.hit.begin(), workspace.hit.end(),
              [](const Hit& a, const Hit& b) { return a.distance_m < b.distance_m; });
    // Surfaces are closed, so the photon starts inside those that it leaves more often than it
    // enters.
    workspace.depth.assign(bodies_.size(), 0);
    const auto depth = [&](const Hit& hit) -> int& {
        return workspace.depth[static_cast<std::size_t>(canopies_.body(hit.triangle))];
    };
    for (const Hit& hit : workspace.hit) depth(hit) += hit.from_outside ? -1 : 1;
    double thickness_left = -std::log(random.uniform());
    double at_m = 0.0;
    for (const Hit& hit : workspace.hit) {
        const Mixture here = mixture(bodies_, workspace.depth);
        const double end_m = std::min(hit.distance_m, within_m);
        const double thickness = here.extinction_per_m * (end_m - at_m);
        if (thickness_left < thickness) {
            out = {at_m + thickness_left / here.extinction_per_m, here.scattered};
            return true;
        }
        if (hit.distance_m >= within_m) return false;
        thickness_left -= thickness;
        at_m = hit.distance_m;
        depth(hit) += hit.from_outside ? 1 : -1;
    }
    return false;
}

}  // namespace bedshade::monte_carlo
