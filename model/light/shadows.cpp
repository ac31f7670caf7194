#include "model/light/shadows.h"

#include <algorithm>
#include <utility>

#include "model/light/blame.h"

namespace bedshade {
namespace {

/// Puts two lists of crossings together; what lies in both takes its light twice.
void merge(std::vector<Crossing>& all, const std::vector<Crossing>& more) {
    for (const Crossing& crossing : more) {
        const auto same = std::find_if(
            all.begin(), all.end(), [&](const Crossing& c) { return c.colony == crossing.colony; });
        if (same == all.end())
            all.push_back(crossing);
        else
            same->transmittance *= crossing.transmittance;
    }
}

/// Everything on a path, piece by piece; false when rock ends it.
bool crossings_along(const TankMirrors& mirrors, const Canopy& canopy, const LightPath& path,
                     std::vector<Crossing>& out) {
    thread_local std::vector<Crossing> piece_crossings;
    out.clear();
    return mirrors.fold(
        path.from, path.direction, static_cast<float>(path.length_m),
        [&](const Eigen::Vector3f& start, const Eigen::Vector3f& direction, float length) {
            if (!canopy.crossings({start, direction, length}, piece_crossings)) return false;
            merge(out, piece_crossings);
            return true;
        });
}

/// Splits the loss among the crossings but the owner's; returns what gets through.
double split(const std::vector<Crossing>& crossings, int owner, std::vector<ShadeShare>& taken) {
    thread_local std::vector<double> transmittance, blame;
    taken.clear();
    transmittance.clear();
    double through = 1.0;
    for (const Crossing& c : crossings) {
        if (c.colony == owner) continue;
        taken.push_back({c.colony, 0.0});
        transmittance.push_back(c.transmittance);
        through *= c.transmittance;
    }
    blame.resize(transmittance.size());
    if (taken.empty()) return 1.0;
    split_blame(transmittance.data(), blame.data(), blame.size());
    for (std::size_t i = 0; i < taken.size(); ++i) taken[i].share = blame[i];
    return through;
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
    through_.assign(paths_.size(), 1.0);
    shade_.assign(paths_.size(), -1);
    shades_.clear();
    free_.clear();
    for (auto& list : touching_) list.clear();
}

void PathSet::note_touching(int colony, const Box& box, const TankMirrors& mirrors) {
    auto& list = touching_[static_cast<std::size_t>(colony)];
    list.clear();
    if (colony == owner_ || (box.min.array() > box.max.array()).any()) return;
    for (std::size_t p = 0; p < paths_.size(); ++p) {
        const bool misses = mirrors.fold(
            paths_[p].from, paths_[p].direction, static_cast<float>(paths_[p].length_m),
            [&](const Eigen::Vector3f& start, const Eigen::Vector3f& direction, float length) {
                return !passes(box, {start, direction, length});
            });
        if (!misses) list.push_back(static_cast<std::uint32_t>(p));
    }
}

void PathSet::note_touching(const BoxIndex& boxes, const TankMirrors& mirrors) {
    thread_local std::vector<int> passed;
    for (auto& list : touching_) list.clear();
    for (std::size_t p = 0; p < paths_.size(); ++p) {
        mirrors.fold(
            paths_[p].from, paths_[p].direction, static_cast<float>(paths_[p].length_m),
            [&](const Eigen::Vector3f& start, const Eigen::Vector3f& direction, float length) {
                boxes.passed({start, direction, length}, passed);
                for (const int colony : passed) add_touching(colony, p);
                return true;
            });
    }
}

void PathSet::add_touching(int colony, std::size_t p) {
    if (colony == owner_) return;
    auto& list = touching_[static_cast<std::size_t>(colony)];
    const auto path = static_cast<std::uint32_t>(p);
    if (list.empty() || list.back() != path) list.push_back(path);
}

void PathSet::trace_touching(const std::vector<int>& colonies, const TankMirrors& mirrors,
                             const Canopy& now, const Canopy& as_set) {
    std::vector<std::uint32_t> changed;
    for (const int colony : colonies) {
        const auto& list = touching_[static_cast<std::size_t>(colony)];
        changed.insert(changed.end(), list.begin(), list.end());
    }
    if (colonies.size() > 1) {
        std::sort(changed.begin(), changed.end());
        changed.erase(std::unique(changed.begin(), changed.end()), changed.end());
    }
    for (const std::uint32_t p : changed) trace(p, mirrors, now, as_set);
}

void PathSet::trace_all(const TankMirrors& mirrors, const Canopy& now, const Canopy& as_set) {
    for (std::size_t p = 0; p < paths_.size(); ++p) trace(p, mirrors, now, as_set);
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

void PathSet::trace_without_blame(std::size_t p, const TankMirrors& mirrors, const Canopy& now) {
    const LightPath& path = paths_[p];
    double through = 1.0;
    mirrors.fold(path.from, path.direction, static_cast<float>(path.length_m),
                 [&](const Eigen::Vector3f& start, const Eigen::Vector3f& direction, float length) {
                     through *= now.transmittance({start, direction, length});
                     return through > 0.0;
                 });
    through_[p] = through;
}

void PathSet::trace(std::size_t p, const TankMirrors& mirrors, const Canopy& now,
                    const Canopy& as_set) {
    if (owner_ < 0) {
        trace_without_blame(p, mirrors, now);
        return;
    }
    const LightPath& path = paths_[p];
    const bool clear = mirrors.fold(
        path.from, path.direction, static_cast<float>(path.length_m),
        [&](const Eigen::Vector3f& start, const Eigen::Vector3f& direction, float length) {
            return !now.meets_anything({start, direction, length});
        });
    if (clear) {
        through_[p] = 1.0;
        clear_shade(p);
        return;
    }
    thread_local std::vector<Crossing> crossings;
    PathShade& shade = shade_for(p);
    shade.taken.clear();
    shade.taken_as_set.clear();
    shade.rock = !crossings_along(mirrors, now, path, crossings);
    if (shade.rock) {
        through_[p] = shade.through_as_set = 0.0;
        return;
    }
    through_[p] = split(crossings, owner_, shade.taken);
    shade.through_as_set = 1.0;
    if (shade.taken.empty()) return;
    if (crossings_along(mirrors, as_set, path, crossings))
        shade.through_as_set = split(crossings, owner_, shade.taken_as_set);
}

}  // namespace bedshade
