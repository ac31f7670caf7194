#include "model/light/occlusion.h"

#include <algorithm>
#include <utility>

#include "model/light/shapley.h"

namespace bedshade {
namespace {

/// Merges two lists of intersections; a colony in both attenuates twice.
void merge(std::vector<Intersection>& all, const std::vector<Intersection>& more) {
    for (const Intersection& intersection : more) {
        const auto same = std::find_if(all.begin(), all.end(), [&](const Intersection& c) {
            return c.colony == intersection.colony;
        });
        if (same == all.end())
            all.push_back(intersection);
        else
            same->transmittance *= intersection.transmittance;
    }
}

/// All intersections on a path, segment by segment; false when rock blocks it.
bool intersections_along(const MirrorImages& mirrors, const LightScene& scene,
                         const LightPath& path, std::vector<Intersection>& out) {
    thread_local std::vector<Intersection> segment_intersections;
    out.clear();
    return mirrors.for_each_segment(
        path.from, path.direction, static_cast<float>(path.length_m),
        [&](const Eigen::Vector3f& start, const Eigen::Vector3f& direction, float length) {
            if (!scene.intersections({start, direction, length}, segment_intersections))
                return false;
            merge(out, segment_intersections);
            return true;
        });
}

/// Attributes the loss to the intersected colonies, except the owner, by the Shapley value. Returns
/// the transmittance of all of them together.
double attribute_loss(const std::vector<Intersection>& intersections, int owner,
                      std::vector<ShadeShare>& attenuation_by_colony) {
    thread_local std::vector<double> transmittance, share;
    attenuation_by_colony.clear();
    transmittance.clear();
    double total = 1.0;
    for (const Intersection& c : intersections) {
        if (c.colony == owner) continue;
        attenuation_by_colony.push_back({c.colony, 0.0});
        transmittance.push_back(c.transmittance);
        total *= c.transmittance;
    }
    share.resize(transmittance.size());
    if (attenuation_by_colony.empty()) return 1.0;
    shapley_shares(transmittance.data(), share.data(), share.size());
    for (std::size_t i = 0; i < attenuation_by_colony.size(); ++i)
        attenuation_by_colony[i].share = share[i];
    return total;
}

}  // namespace

void PathSet::find_paths(const PathFinder& finder, std::vector<LightReceptor> receptors,
                         std::uint32_t first_key) {
    receptors_ = std::move(receptors);
    paths_.clear();
    first_.assign(1, 0);
    for (std::size_t r = 0; r < receptors_.size(); ++r) {
        finder.paths_to(receptors_[r], first_key + static_cast<std::uint32_t>(r), paths_);
        first_.push_back(paths_.size());
    }
    transmittance_.assign(paths_.size(), 1.0);
    shade_.assign(paths_.size(), -1);
    shades_.clear();
    free_.clear();
    for (auto& list : affected_) list.clear();
}

void PathSet::find_affected(int colony, const Box& box, const MirrorImages& mirrors) {
    auto& list = affected_[static_cast<std::size_t>(colony)];
    list.clear();
    if (colony == owner_ || (box.min.array() > box.max.array()).any()) return;
    for (std::size_t p = 0; p < paths_.size(); ++p) {
        const bool misses = mirrors.for_each_segment(
            paths_[p].from, paths_[p].direction, static_cast<float>(paths_[p].length_m),
            [&](const Eigen::Vector3f& start, const Eigen::Vector3f& direction, float length) {
                return !intersects(box, {start, direction, length});
            });
        if (!misses) list.push_back(static_cast<std::uint32_t>(p));
    }
}

void PathSet::find_affected(const BoxIndex& boxes, const MirrorImages& mirrors) {
    thread_local std::vector<int> boxes_hit;
    for (auto& list : affected_) list.clear();
    for (std::size_t p = 0; p < paths_.size(); ++p) {
        mirrors.for_each_segment(
            paths_[p].from, paths_[p].direction, static_cast<float>(paths_[p].length_m),
            [&](const Eigen::Vector3f& start, const Eigen::Vector3f& direction, float length) {
                boxes.boxes_hit({start, direction, length}, boxes_hit);
                for (const int colony : boxes_hit) add_affected(colony, p);
                return true;
            });
    }
}

void PathSet::add_affected(int colony, std::size_t p) {
    if (colony == owner_) return;
    auto& list = affected_[static_cast<std::size_t>(colony)];
    const auto path = static_cast<std::uint32_t>(p);
    if (list.empty() || list.back() != path) list.push_back(path);
}

void PathSet::trace_affected(const std::vector<int>& colonies, const MirrorImages& mirrors,
                             const LightScene& now, const LightScene& baseline) {
    std::vector<std::uint32_t> changed;
    for (const int colony : colonies) {
        const auto& list = affected_[static_cast<std::size_t>(colony)];
        changed.insert(changed.end(), list.begin(), list.end());
    }
    if (colonies.size() > 1) {
        std::sort(changed.begin(), changed.end());
        changed.erase(std::unique(changed.begin(), changed.end()), changed.end());
    }
    for (const std::uint32_t p : changed) trace(p, mirrors, now, baseline);
}

void PathSet::trace_all(const MirrorImages& mirrors, const LightScene& now,
                        const LightScene& baseline) {
    for (std::size_t p = 0; p < paths_.size(); ++p) trace(p, mirrors, now, baseline);
}

PathShade& PathSet::shade_for(std::size_t p) {
    if (shade_[p] < 0) {
        if (free_.empty()) {
            free_.push_back(static_cast<int>(shades_.size()));
            shades_.emplace_back();
        }
        shade_[p] = free_.back();
        free_.pop_back();
    }
    return shades_[static_cast<std::size_t>(shade_[p])];
}

void PathSet::clear_shade(std::size_t p) {
    if (shade_[p] < 0) return;
    free_.push_back(shade_[p]);
    shade_[p] = -1;
}

void PathSet::trace_without_attribution(std::size_t p, const MirrorImages& mirrors,
                                        const LightScene& now) {
    const LightPath& path = paths_[p];
    double transmittance = 1.0;
    mirrors.for_each_segment(
        path.from, path.direction, static_cast<float>(path.length_m),
        [&](const Eigen::Vector3f& start, const Eigen::Vector3f& direction, float length) {
            transmittance *= now.transmittance({start, direction, length});
            return transmittance > 0.0;
        });
    transmittance_[p] = transmittance;
}

void PathSet::trace(std::size_t p, const MirrorImages& mirrors, const LightScene& now,
                    const LightScene& baseline) {
    if (owner_ < 0) {
        trace_without_attribution(p, mirrors, now);
        return;
    }
    const LightPath& path = paths_[p];
    const bool clear = mirrors.for_each_segment(
        path.from, path.direction, static_cast<float>(path.length_m),
        [&](const Eigen::Vector3f& start, const Eigen::Vector3f& direction, float length) {
            return !now.any_hit({start, direction, length});
        });
    if (clear) {
        transmittance_[p] = 1.0;
        clear_shade(p);
        return;
    }
    thread_local std::vector<Intersection> intersections;
    PathShade& shade = shade_for(p);
    shade.attenuation_by_colony.clear();
    shade.attenuation_baseline.clear();
    shade.rock = !intersections_along(mirrors, now, path, intersections);
    if (shade.rock) {
        transmittance_[p] = shade.transmittance_baseline = 0.0;
        return;
    }
    transmittance_[p] = attribute_loss(intersections, owner_, shade.attenuation_by_colony);
    shade.transmittance_baseline = 1.0;
    if (shade.attenuation_by_colony.empty()) return;
    if (intersections_along(mirrors, baseline, path, intersections))
        shade.transmittance_baseline =
            attribute_loss(intersections, owner_, shade.attenuation_baseline);
}

}  // namespace bedshade
