#include "model/light/light_field.h"

#include <algorithm>
#include <cmath>
#include <utility>

namespace bedshade {
namespace {

constexpr double kBoxMargin_m = 0.015;             // margin of a colony's box for growth
constexpr std::uint32_t kColonyKeys = 0x10000000;  // distinct from the bed's keys
constexpr std::uint32_t kSolidKeys = 0x08000000;   // distinct from both
constexpr std::uint32_t kPointKeys = 0x40000000;   // distinct from all of them
constexpr std::size_t kSolidsPerSet = 32;
constexpr int kSolidSamples = 4;  // on a lamp: light reflected by dark surfaces need not be exact
constexpr std::uint32_t kKeysPerColony = 1024;

/// PPFD of a path without occlusion.
double unoccluded_ppfd(const LightPath& path, const LampsToday& today) {
    const auto& lamp = today.lamps[static_cast<std::size_t>(path.lamp)];
    return lamp.scale * path.weight * lamp.water.transmittance(path.length_m);
}

/// Adds to the entry of `colony`, and creates it if there is none. Lists are short.
void add_share(std::vector<ShadeShare>& list, int colony, double amount) {
    for (auto& entry : list) {
        if (entry.colony == colony) {
            entry.share += amount;
            return;
        }
    }
    list.push_back({colony, amount});
}

/// Adds the light on one receptor of a set, by lamp.
void add_light(const PathSet& set, std::size_t receptor, const LampsToday& today, double* by_lamp) {
    for (std::size_t p = set.first(receptor); p < set.first(receptor + 1); ++p) {
        const double transmittance = set.transmittance(p);
        if (transmittance > 0.0)
            by_lamp[set.path(p).lamp] += transmittance * unoccluded_ppfd(set.path(p), today);
    }
}

}  // namespace

/// Photons of a day on one colony: without neighbours, and attenuation by each neighbour.
struct LightField::AttenuationSums {
    double alone = 0.0;
    std::vector<ShadeShare> now, baseline;

    void add(double photons, const PathShade* shade) {
        if (shade != nullptr && shade->rock) return;
        alone += photons;
        if (shade == nullptr) return;
        for (const ShadeShare& s : shade->attenuation_by_colony)
            add_share(now, s.colony, photons * s.share);
        for (const ShadeShare& s : shade->attenuation_baseline)
            add_share(baseline, s.colony, photons * s.share);
    }

    void write(ColonyLight& light) const {
        light.direct_alone = alone;
        const double all = std::max(alone, 1e-300);
        for (const ShadeShare& s : now)
            light.attenuation_by_colony.push_back({s.colony, s.share / all});
        light.attenuation_since_baseline = light.attenuation_by_colony;
        for (const ShadeShare& s : baseline)
            add_share(light.attenuation_since_baseline, s.colony, -s.share / all);
    }
};

LightField::LightField(const Layout& layout, const BedGrid& bed, int samples,
                       const std::vector<LightReceptor>& solids)
    : finder_(layout, samples),
      scene_(layout.rocks, static_cast<int>(layout.colonies.size())),
      baseline_scene_(layout.rocks, static_cast<int>(layout.colonies.size())),
      bed_paths_(static_cast<std::size_t>(bed.ny), PathSet(-1, layout.colonies.size())),
      boxes_(layout.colonies.size()) {
    for (std::size_t i = 0; i < layout.colonies.size(); ++i)
        colony_paths_.emplace_back(static_cast<int>(i), layout.colonies.size());
    for (PathSet& set : colony_paths_) set.find_paths(finder_, {}, 0);
    find_bed_paths(bed);
    find_solid_paths(layout, solids);
    new_paths_.assign(set_count(), 1);
}

void LightField::find_bed_paths(const BedGrid& bed) {
    for (int j = 0; j < bed.ny; ++j) {
        std::vector<LightReceptor> row;
        row.reserve(static_cast<std::size_t>(bed.nx));
        for (int i = 0; i < bed.nx; ++i) row.push_back(bed_receptor(bed, i, j));
        bed_paths_[static_cast<std::size_t>(j)].find_paths(
            finder_, std::move(row), static_cast<std::uint32_t>(bed.index(0, j)));
    }
}

void LightField::find_solid_paths(const Layout& layout, const std::vector<LightReceptor>& solids) {
    const PathFinder coarse(layout, kSolidSamples);
    for (std::size_t r = 0; r < solids.size(); r += kSolidsPerSet) {
        const auto first = solids.begin() + static_cast<std::ptrdiff_t>(r);
        const auto count = static_cast<std::ptrdiff_t>(std::min(kSolidsPerSet, solids.size() - r));
        solid_paths_.emplace_back(-1, layout.colonies.size())
            .find_paths(coarse, {first, first + count}, kSolidKeys + static_cast<std::uint32_t>(r));
    }
}

void LightField::place_baseline(int colony, const ColonyInLight& body) {
    baseline_scene_.place(colony, body.mesh, body.extinction_per_m);
}

void LightField::place(int colony, const std::optional<ColonyInLight>& body) {
    Box& box = boxes_[static_cast<std::size_t>(colony)];
    changed_.push_back(colony);
    if (!body) {
        scene_.remove(colony);
        return;  // its box stays, so that the paths it shaded are traced again
    }
    scene_.place(colony, body->mesh, body->extinction_per_m);
    if (box.contains(body->bounds.min) && box.contains(body->bounds.max)) return;
    box.extend(body->bounds.min - Vec3::Constant(kBoxMargin_m));
    box.extend(body->bounds.max + Vec3::Constant(kBoxMargin_m));
    moved_boxes_.push_back(colony);
}

void LightField::set_receptors(int colony, std::vector<LightReceptor> receptors) {
    const auto i = static_cast<std::size_t>(colony);
    colony_paths_[i].find_paths(finder_, std::move(receptors),
                                kColonyKeys + static_cast<std::uint32_t>(colony) * kKeysPerColony);
    new_paths_[bed_paths_.size() + i] = 1;
}

void LightField::find_affected(PathSet& set, bool new_paths) const {
    if (new_paths) {
        set.find_affected(box_index_, finder_.mirrors());
        return;
    }
    for (const int c : moved_boxes_)
        set.find_affected(c, boxes_[static_cast<std::size_t>(c)], finder_.mirrors());
}

void LightField::update(const ParallelFor& parallel, bool everything) {
    scene_.commit();
    baseline_scene_.commit();
    if (!moved_boxes_.empty() || !indexed_) box_index_.build(boxes_);
    indexed_ = true;
    parallel(set_count(), [&](std::size_t begin, std::size_t end) {
        for (std::size_t i = begin; i < end; ++i) {
            PathSet& set = set_at(i);
            const bool new_paths = new_paths_[i] != 0;
            find_affected(set, new_paths);
            if (new_paths || everything)
                set.trace_all(finder_.mirrors(), scene_, baseline_scene_);
            else
                set.trace_affected(changed_, finder_.mirrors(), scene_, baseline_scene_);
            new_paths_[i] = 0;
        }
    });
    changed_.clear();
    moved_boxes_.clear();
}

std::vector<double> LightField::bed(const LampsToday& today, const ParallelFor& parallel) const {
    const std::size_t row = bed_paths_.empty() ? 0 : bed_paths_.front().receptors().size();
    std::vector<double> ppfd(bed_paths_.size() * row * lamp_count(), 0.0);
    parallel(bed_paths_.size(), [&](std::size_t begin, std::size_t end) {
        for (std::size_t j = begin; j < end; ++j)
            for (std::size_t i = 0; i < row; ++i)
                add_light(bed_paths_[j], i, today, ppfd.data() + (j * row + i) * lamp_count());
    });
    return ppfd;
}

std::vector<double> LightField::solids(const LampsToday& today, const ParallelFor& parallel) const {
    std::size_t count = 0;
    for (const PathSet& set : solid_paths_) count += set.receptors().size();
    std::vector<double> ppfd(count * lamp_count(), 0.0);
    parallel(solid_paths_.size(), [&](std::size_t begin, std::size_t end) {
        for (std::size_t s = begin; s < end; ++s)
            for (std::size_t r = 0; r < solid_paths_[s].receptors().size(); ++r)
                add_light(solid_paths_[s], r, today,
                          ppfd.data() + (s * kSolidsPerSet + r) * lamp_count());
    });
    return ppfd;
}

std::vector<double> LightField::points(std::span<const LightReceptor> receptors,
                                       const LampsToday& today) const {
    PathSet set(-1, 0);
    set.find_paths(finder_, {receptors.begin(), receptors.end()}, kPointKeys);
    set.trace_all(finder_.mirrors(), scene_, baseline_scene_);
    std::vector<double> ppfd(receptors.size() * lamp_count(), 0.0);
    for (std::size_t r = 0; r < receptors.size(); ++r)
        add_light(set, r, today, ppfd.data() + r * lamp_count());
    return ppfd;
}

std::vector<ColonyLight> LightField::colonies(const LampsToday& today,
                                              const ParallelFor& parallel) const {
    std::vector<ColonyLight> light(colony_paths_.size());
    parallel(light.size(), [&](std::size_t begin, std::size_t end) {
        for (std::size_t i = begin; i < end; ++i) light[i] = colony_light(colony_paths_[i], today);
    });
    return light;
}

ColonyLight LightField::colony_light(const PathSet& set, const LampsToday& today) const {
    const std::size_t lamps = lamp_count();
    ColonyLight light;
    light.patch_umol_m2_s.assign(set.receptors().size() * lamps, 0.0);
    light.patch_baseline_umol_m2_s.assign(set.receptors().size() * lamps, 0.0);
    AttenuationSums sums;
    for (std::size_t r = 0; r < set.receptors().size(); ++r) {
        for (std::size_t p = set.first(r); p < set.first(r + 1); ++p) {
            const LightPath& path = set.path(p);
            const PathShade* shade = set.shade(p);
            const std::size_t at = r * lamps + static_cast<std::size_t>(path.lamp);
            const double unoccluded = unoccluded_ppfd(path, today);
            light.patch_umol_m2_s[at] += unoccluded * set.transmittance(p);
            light.patch_baseline_umol_m2_s[at] +=
                unoccluded * (shade == nullptr ? 1.0 : shade->transmittance_baseline);
            sums.add(unoccluded * set.receptors()[r].area_m2 *
                         today.lamps[static_cast<std::size_t>(path.lamp)].plateau_hours,
                     shade);
        }
    }
    sums.write(light);
    return light;
}

std::size_t LightField::path_count() const {
    std::size_t count = 0;
    for (const PathSet& set : bed_paths_) count += set.path_count();
    for (const PathSet& set : colony_paths_) count += set.path_count();
    for (const PathSet& set : solid_paths_) count += set.path_count();
    return count;
}

}  // namespace bedshade
