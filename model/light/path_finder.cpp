#include "model/light/path_finder.h"

#include <algorithm>

#include "model/base/random.h"
#include "model/light/refractive_index.h"
#include "model/light/surface.h"

namespace bedshade {
namespace {

/// Factor on the samples of a receptor with an area, which is sampled over that area too (the edge
/// of a shadow may cross it). With several lamps each gets fewer samples, because the noise of one
/// lamp is a smaller part of the sum.
int area_sample_factor(std::size_t lamps) {
    constexpr int kTotalFactor = 8;
    return std::max(1, kTotalFactor / std::max(1, static_cast<int>(lamps)));
}

std::vector<Emitter> emitters_of(const std::vector<Lamp>& lamps) {
    std::vector<Emitter> emitters;
    emitters.reserve(lamps.size());
    for (const Lamp& lamp : lamps) emitters.push_back(emitter_of(lamp));
    return emitters;
}

/// Largest distance outside the opening at which light of any lamp, reflected by a dry pane, meets
/// the surface [m].
double dry_reach_m(const DryRim& rim, const Tank& tank, const std::vector<Emitter>& emitters) {
    double reach_m = 0.0;
    for (const Emitter& emitter : emitters) {
        const Vec3 half = emitter.half_side_m.cwiseAbs() + emitter.half_width_m.cwiseAbs();
        const Vec2 middle = 0.5 * Vec2(tank.length_m, tank.width_m);
        const Vec2 off = (emitter.centre_m.head<2>() - middle).cwiseAbs() + half.head<2>() + middle;
        const double lowest_m = emitter.centre_m.z() - half.z() - tank.water_depth_m;
        reach_m = std::max(reach_m, rim.reach_m(lowest_m, off.norm()));
    }
    return reach_m;
}

}  // namespace

PathFinder::PathFinder(const Layout& layout, int samples)
    : tank_(layout.tank),
      refractive_index_(refractive_index(layout.water)),
      samples_(samples),
      emitters_(emitters_of(layout.lamps)),
      rim_(layout.tank),
      mirrors_(layout.tank, refractive_index_, dry_reach_m(rim_, layout.tank, emitters_)) {
    for (const Lamp& lamp : layout.lamps) photon_flux_umol_s_.push_back(lamp.photon_flux_umol_s);
}

void PathFinder::paths_to(const LightReceptor& receptor, std::uint32_t key,
                          std::vector<LightPath>& out) const {
    const double depth = tank_.water_depth_m - receptor.position_m.z();
    for (const MirrorImages::Cell cell : mirrors_.cells()) {
        if (cell.reflections() > 0 &&
            !mirrors_.in_reach(mirrors_.image_of(receptor.position_m, cell), depth))
            continue;
        for (std::size_t lamp = 0; lamp < emitters_.size(); ++lamp)
            add_paths(receptor, static_cast<int>(lamp), cell, key, out);
    }
}

void PathFinder::add_paths(const LightReceptor& receptor, int lamp, MirrorImages::Cell cell,
                           std::uint32_t key, std::vector<LightPath>& out) const {
    const auto l = static_cast<std::size_t>(lamp);
    const Emitter& emitter = emitters_[l];
    const int full =
        receptor.half_width_m.isZero() ? samples_ : area_sample_factor(lamp_count()) * samples_;
    const int path_samples = cell.reflections() == 0 ? full : std::max(1, full / 4);
    const int samples = emitter.shape == LampShape::point ? 1 : path_samples;
    // One random stream for each lamp and image cell; a cell index fits into a byte for each axis.
    const int path_key = lamp * 65536 + (cell.i + 128) * 256 + (cell.j + 128);
    RandomStream stream(0, 0, Process::lamp_sampling, path_key, key);
    const double u = stream.uniform();
    const double v = stream.uniform();
    for (int k = 0; k < samples; ++k) {
        const Vec3 at = sample_point(receptor, static_cast<std::uint32_t>(k), {v, u});
        const Vec3 image = mirrors_.image_of(at, cell);
        const Vec3 source = emitter_point(emitter, k, samples, u, v);
        const SurfacePath path =
            surface_path(source, image, tank_.water_depth_m, refractive_index_);
        const Vec3 crossing = crossing_point(source, image, tank_.water_depth_m, path);
        const std::optional<ImageCell> dry = rim_.image_cell_at(crossing);
        if (!dry) continue;
        const double entering = rim_.transmittance(source, crossing, *dry);
        if (entering <= 0.0) continue;
        const Vec3 to_light = direction_to_light(source, image, refractive_index_, path);
        const Vec3 here = MirrorImages::mirrored_direction(to_light, cell);
        const double factor = receptor.normal.isZero()
                                  ? scalar_factor_per_m2(path)
                                  : facet_factor_per_m2(path, receptor.normal, here);
        if (factor <= 0.0) continue;
        const double intensity = intensity_umol_s_sr(emitter, photon_flux_umol_s_[l],
                                                     direction_in_air(source, image, path));
        const double weight =
            factor * entering * intensity * mirrors_.reflectance(to_light, cell, *dry) / samples;
        if (weight > 0.0)
            out.push_back({at.cast<float>(), here.cast<float>(), lamp, path.path_water_m, weight});
    }
}

}  // namespace bedshade
