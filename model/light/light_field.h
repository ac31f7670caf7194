// Direct light field under water: irradiance (PPFD) of every receptor from the lamps through the
// surface, the water and the occluding colonies, with attribution of the attenuation to neighbours.
//
// Exact refracted paths from sampled lamp faces (model/light/surface.h), direct and by specular
// reflection at the glass (method of images, model/light/mirror_images.h), absorbed by the water,
// blocked by rock and opaque colonies and attenuated by porous ones. Visibility is cached from day
// to day (model/light/occlusion.h): when a colony changes, only the paths that intersect the box
// around it are traced again. Diffuse interreflection is added by model/light/radiosity.h.
#pragma once

#include <optional>
#include <span>
#include <vector>

#include "model/base/bed_grid.h"
#include "model/base/parallel.h"
#include "model/light/colony_in_light.h"
#include "model/light/colony_light.h"
#include "model/light/lamps_today.h"
#include "model/light/light_scene.h"
#include "model/light/occlusion.h"
#include "model/light/path_finder.h"
#include "model/reef/layout.h"

namespace bedshade {

class LightField {
  public:
    /// `samples` points on each extended lamp for each receptor; fewer for `solids`, further
    /// receptors at fixed positions.
    LightField(const Layout& layout, const BedGrid& bed, int samples = kLampSamples,
               const std::vector<LightReceptor>& solids = {});

    static constexpr int kLampSamples = 16;

    /// Sets a colony in the baseline scene (day 0), against which attenuation by neighbours' growth
    /// is computed. To be called for all colonies before the first `update`.
    void place_baseline(int colony, const ColonyInLight& body);
    /// Sets a colony as it is today, or none. Takes effect with `update`.
    void place(int colony, const std::optional<ColonyInLight>& body);
    /// Sets the receptors of a colony; none for one that is absent.
    void set_receptors(int colony, std::vector<LightReceptor> receptors);
    /// Traces the paths that the changes can affect, or everything: the bits are the same.
    void update(const ParallelFor& parallel, bool everything = false);

    /// Plateau light of each lamp on every bed cell, [y][x][lamp]: the mean over the cell, 0 where
    /// rock or coral covers it [umol m-2 s-1].
    std::vector<double> bed(const LampsToday& today, const ParallelFor& parallel) const;
    /// Plateau light of each lamp on the `solids`, [solid][lamp] [umol m-2 s-1].
    std::vector<double> solids(const LampsToday& today, const ParallelFor& parallel) const;
    /// Light on every colony; empty where it has no receptors.
    std::vector<ColonyLight> colonies(const LampsToday& today, const ParallelFor& parallel) const;
    /// Plateau light of each lamp at points, [point][lamp] [umol m-2 s-1].
    std::vector<double> points(std::span<const LightReceptor> receptors,
                               const LampsToday& today) const;

    const std::vector<LightReceptor>& receptors(int colony) const {
        return colony_paths_[static_cast<std::size_t>(colony)].receptors();
    }
    std::size_t lamp_count() const { return finder_.lamp_count(); }
    /// Number of paths over all receptors.
    std::size_t path_count() const;

  private:
    struct AttenuationSums;

    void find_bed_paths(const BedGrid& bed);
    void find_solid_paths(const Layout& layout, const std::vector<LightReceptor>& solids);
    std::size_t set_count() const {
        return bed_paths_.size() + colony_paths_.size() + solid_paths_.size();
    }
    void find_affected(PathSet& set, bool new_paths) const;
    PathSet& set_at(std::size_t i) {
        if (i < bed_paths_.size()) return bed_paths_[i];
        i -= bed_paths_.size();
        return i < colony_paths_.size() ? colony_paths_[i] : solid_paths_[i - colony_paths_.size()];
    }
    ColonyLight colony_light(const PathSet& set, const LampsToday& today) const;

    PathFinder finder_;
    LightScene scene_, baseline_scene_;
    std::vector<PathSet> bed_paths_;     // by row of cells
    std::vector<PathSet> colony_paths_;  // by colony
    std::vector<PathSet> solid_paths_;   // up to kSolidsPerSet receptors each
    std::vector<Box> boxes_;             // by colony: bounds over all days so far, plus a margin
    BoxIndex box_index_;                 // of boxes_
    bool indexed_ = false;
    std::vector<int> changed_;      // colonies placed since the last update
    std::vector<int> moved_boxes_;  // of those, the ones whose box has changed
    std::vector<char> new_paths_;   // by set: its paths are new
};

}  // namespace bedshade
