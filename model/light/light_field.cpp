#include "model/light/light_field.h"

#include <algorithm>
#include <cmath>

#include "model/base/random.h"
#include "model/light/blame.h"
#include "model/light/sea_index.h"
#include "model/light/spectrum.h"
#include "model/light/surface.h"

namespace bedshade {
namespace {

constexpr double kBedLift_m = 1e-4;  // receptors lie just above the sand

/// Share of full output that leaves the lamp on a day, by how far it is turned up and its age.
double turned_up(const Lamp& lamp, double day_d) {
    return lamp.photon_flux_umol_s > 0.0 ? photon_flux_umol_s(lamp, day_d) / lamp.photon_flux_umol_s
                                         : 0.0;
}

/// Adds to the entry of `colony`, which is made when it is not there. Lists are short.
void add_share(std::vector<ShadeShare>& list, int colony, double amount) {
    for (auto& entry : list) {
        if (entry.colony == colony) {
            entry.share += amount;
            return;
        }
    }
    list.push_back({colony, amount});
}

}  // namespace

/// Light taken from one colony over a day, by whom, and what it would have had alone.
struct LightField::Ledger {
    double alone = 0.0;
    std::vector<ShadeShare> now, as_set;
    std::vector<Crossing> crossings;
    std::vector<double> transmittance, blame;

    /// Splits `light` that others take on a path; returns what they let through [1].
    double charge(int owner, double light, std::vector<ShadeShare>& to) {
        transmittance.clear();
        double through = 1.0;
        for (const Crossing& c : crossings) {
            if (c.colony == owner) continue;
            transmittance.push_back(c.transmittance);
            through *= c.transmittance;
        }
        blame.resize(transmittance.size());
        if (blame.empty()) return 1.0;
        split_blame(transmittance.data(), blame.data(), blame.size());
        std::size_t i = 0;
        for (const Crossing& c : crossings)
            if (c.colony != owner) add_share(to, c.colony, light * blame[i++]);
        return through;
    }
};

LampsToday lamps_on(const Layout& layout, double day_d, double output_scale) {
    const Water water = water_on(layout.water, day_d);
    LampsToday today;
    for (const Lamp& lamp : layout.lamps)
        today.lamps.push_back(
            {output_scale * layout.tank.cover_transmittance * turned_up(lamp, day_d),
             lamp.day.plateau_hours(), Attenuation(spectrum_of(lamp), water)});
    return today;
}

LightField::LightField(const Layout& layout, const BedGrid& bed, int samples)
    : tank_(layout.tank),
      refractive_index_(refractive_index(layout.water)),
      samples_(samples),
      now_(layout.rocks, static_cast<int>(layout.colonies.size())),
      as_set_(layout.rocks, static_cast<int>(layout.colonies.size())) {
    for (const Lamp& lamp : layout.lamps) {
        emitters_.push_back(emitter_of(lamp));
        photon_flux_umol_s_.push_back(lamp.photon_flux_umol_s);
    }
    for (int j = 0; j < bed.ny; ++j) {
        for (int i = 0; i < bed.nx; ++i) {
            const LightReceptor cell{Vec3(bed.x_m(i), bed.y_m(j), kBedLift_m), Vec3::UnitZ()};
            bed_first_.push_back(bed_paths_.size());
            bed_points_.emplace_back(cell.position_m.cast<float>());
            paths_to(cell, static_cast<std::uint32_t>(j * bed.nx + i), bed_paths_);
        }
    }
    bed_first_.push_back(bed_paths_.size());
}

void LightField::add_path(const LightReceptor& receptor, int lamp, const Vec3& source, int samples,
                          std::vector<Path>& out) const {
    const Vec3& here = receptor.position_m;
    const SurfacePath path = surface_path(source, here, tank_.water_depth_m, refractive_index_);
    const Vec3 to_light = direction_to_light(source, here, refractive_index_, path);
    const double factor = receptor.normal.isZero()
                              ? scalar_factor_per_m2(path)
                              : facet_factor_per_m2(path, receptor.normal, to_light);
    if (factor <= 0.0 || !in_opening(crossing_point(source, here, tank_.water_depth_m, path)))
        return;
    const double intensity = intensity_umol_s_sr(
        emitters_[static_cast<std::size_t>(lamp)],
        photon_flux_umol_s_[static_cast<std::size_t>(lamp)], direction_in_air(source, here, path));
    const double weight = factor * intensity / samples;
    if (weight > 0.0) out.push_back({to_light.cast<float>(), lamp, path.path_water_m, weight});
}

bool LightField::in_opening(const Vec3& point) const {
    return point.x() >= 0.0 && point.x() <= tank_.length_m && point.y() >= 0.0 &&
           point.y() <= tank_.width_m;
}

void LightField::paths_to(const LightReceptor& receptor, std::uint32_t key,
                          std::vector<Path>& out) const {
    for (std::size_t l = 0; l < emitters_.size(); ++l) {
        const int lamp = static_cast<int>(l);
        const Emitter& emitter = emitters_[l];
        const int samples = emitter.shape == LampShape::point ? 1 : samples_;
        // Each receptor sees the lamp's face from its own set of points, so that the steps in their
        // penumbras do not line up.
        RandomStream stream(0, 0, Process::lamp_sampling, lamp, key);
        const double u = stream.uniform();
        const double v = stream.uniform();
        for (int k = 0; k < samples; ++k)
            add_path(receptor, lamp, emitter_point(emitter, k, samples, u, v), samples, out);
    }
}

Segment LightField::segment_of(const Eigen::Vector3f& from, const Path& path) {
    return {from, path.direction, static_cast<float>(path.length_m)};
}

/// PPFD a path brings when nothing stands in it.
double LightField::arriving(const Path& path, const LampsToday& today) {
    const auto& lamp = today.lamps[static_cast<std::size_t>(path.lamp)];
    return lamp.scale * path.weight * lamp.water.transmittance(path.length_m);
}

double LightField::open_share(const Segment& segment) const {
    if (!now_.meets_anything(segment)) return 1.0;
    thread_local std::vector<Crossing> crossings;
    if (!now_.crossings(segment, crossings)) return 0.0;
    double through = 1.0;
    for (const Crossing& c : crossings) through *= c.transmittance;
    return through;
}

std::vector<double> LightField::bed(const LampsToday& today, const ParallelFor& parallel) const {
    std::vector<double> ppfd(bed_points_.size() * lamp_count(), 0.0);
    parallel(bed_points_.size(), [&](std::size_t begin, std::size_t end) {
        for (std::size_t cell = begin; cell < end; ++cell) {
            for (std::size_t p = bed_first_[cell]; p < bed_first_[cell + 1]; ++p) {
                const Path& path = bed_paths_[p];
                ppfd[cell * lamp_count() + static_cast<std::size_t>(path.lamp)] +=
                    arriving(path, today) * open_share(segment_of(bed_points_[cell], path));
            }
        }
    });
    return ppfd;
}

std::vector<double> LightField::points(std::span<const LightReceptor> receptors,
                                       const LampsToday& today) const {
    constexpr int kPointKey = 0x40000000;  // apart from the bed's and the patches' keys
    std::vector<double> ppfd(receptors.size() * lamp_count(), 0.0);
    std::vector<Path> paths;
    for (std::size_t r = 0; r < receptors.size(); ++r) {
        paths.clear();
        paths_to(receptors[r], static_cast<std::uint32_t>(kPointKey + r), paths);
        for (const Path& path : paths) {
            const auto lamp = static_cast<std::size_t>(path.lamp);
            ppfd[r * lamp_count() + lamp] +=
                arriving(path, today) *
                open_share(segment_of(receptors[r].position_m.cast<float>(), path));
        }
    }
    return ppfd;
}

std::vector<ColonyLight> LightField::colonies(std::span<const ColonyReceptors> receptors,
                                              const LampsToday& today,
                                              const ParallelFor& parallel) const {
    std::vector<ColonyLight> light(receptors.size());
    parallel(receptors.size(), [&](std::size_t begin, std::size_t end) {
        for (std::size_t i = begin; i < end; ++i) light[i] = colony(receptors[i], today);
    });
    return light;
}

ColonyLight LightField::colony(const ColonyReceptors& receptors, const LampsToday& today) const {
    const std::size_t lamps = lamp_count();
    const std::size_t patches = receptors.patches.size();
    ColonyLight light;
    light.patch_umol_m2_s.assign(patches * lamps, 0.0);
    light.patch_as_set_umol_m2_s.assign(patches * lamps, 0.0);
    Ledger ledger;
    std::vector<Path> paths;
    for (std::size_t p = 0; p < patches; ++p) {
        const LightReceptor& patch = receptors.patches[p];
        paths.clear();
        const auto key = static_cast<std::uint32_t>(0x10000000U + p);
        paths_to(patch, key + static_cast<std::uint32_t>(receptors.colony) * 1024U, paths);
        for (const Path& path : paths) {
            const auto l = static_cast<std::size_t>(path.lamp);
            const double light_here = arriving(path, today);
            if (light_here <= 0.0) continue;
            settle(segment_of(patch.position_m.cast<float>(), path), receptors.colony, light_here,
                   patch.area_m2 * today.lamps[l].plateau_hours,
                   light.patch_umol_m2_s[p * lamps + l],
                   light.patch_as_set_umol_m2_s[p * lamps + l], ledger);
        }
    }
    const double alone = std::max(ledger.alone, 1e-300);
    for (const ShadeShare& s : ledger.now) light.taken.push_back({s.colony, s.share / alone});
    light.taken_since_set = light.taken;
    for (const ShadeShare& s : ledger.as_set)
        add_share(light.taken_since_set, s.colony, -s.share / alone);
    return light;
}

/// Follows one path: adds what arrives now, and as the neighbours stood on day 0, and notes who
/// took the rest. A colony's own branches and back are not a neighbour's doing.
void LightField::settle(const Segment& segment, int owner, double light, double day_weight,
                        double& now, double& as_set, Ledger& ledger) const {
    if (!now_.meets_anything(segment)) {
        ledger.alone += light * day_weight;
        now += light;
        as_set += light;
        return;
    }
    if (!now_.crossings(segment, ledger.crossings)) return;
    ledger.alone += light * day_weight;
    const bool shaded = std::any_of(ledger.crossings.begin(), ledger.crossings.end(),
                                    [&](const Crossing& c) { return c.colony != owner; });
    now += light * ledger.charge(owner, light * day_weight, ledger.now);
    if (!shaded) {
        as_set += light;
        return;
    }
    if (as_set_.crossings(segment, ledger.crossings))
        as_set += light * ledger.charge(owner, light * day_weight, ledger.as_set);
}

}  // namespace bedshade
