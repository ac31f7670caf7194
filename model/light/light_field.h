// Light under water: what every receptor gets from the lamps, through the surface, the water and
// what stands in the way, and which colony takes how much of it.
//
// Exact refracted paths from sampled lamp faces (model/light/surface.h), straight and by way of the
// mirroring glass (model/light/mirror_images.h), absorbed along the way, stopped by rock and opaque
// colonies and thinned by porous ones. Visibility is kept from day to day: a colony that changes
// has only those paths traced again that pass through the box around it.
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
    /// `samples` points on each extended lamp for each receptor; few for `solids`, further
    /// receptors that stay where they are.
    LightField(const Layout& layout, const BedGrid& bed, int samples = kLampSamples,
               const std::vector<LightReceptor>& solids = {});

    static constexpr int kLampSamples = 16;

    /// Puts a colony where neighbours' growth is measured from: as it was set up. To be done for
    /// all before the first `settle`.
    void place_baseline(int colony, const ColonyInLight& body);
    /// Puts a colony as it is, or nothing. Takes effect with `settle`.
    void place(int colony, const std::optional<ColonyInLight>& body);
    /// Says where a colony's light is to be known; no receptors for one that is absent.
    void receive(int colony, std::vector<LightReceptor> receptors);
    /// Traces what those changes can have changed, or everything: the bits are the same.
    void settle(const ParallelFor& parallel, bool everything = false);

    /// Plateau light of each lamp on every bed cell, [y][x][lamp]: the mean over the cell, none
    /// where rock or coral stands on it [umol m-2 s-1].
    std::vector<double> bed(const LampsToday& today, const ParallelFor& parallel) const;
    /// Plateau light of each lamp on the `solids`, [solid][lamp] [umol m-2 s-1].
    std::vector<double> solids(const LampsToday& today, const ParallelFor& parallel) const;
    /// Light on every colony; nothing where it has no receptors.
    std::vector<ColonyLight> colonies(const LampsToday& today, const ParallelFor& parallel) const;
    /// Plateau light of each lamp at points, [point][lamp] [umol m-2 s-1].
    std::vector<double> points(std::span<const LightReceptor> receptors,
                               const LampsToday& today) const;

    const std::vector<LightReceptor>& receptors(int colony) const {
        return colony_paths_[static_cast<std::size_t>(colony)].receptors();
    }
    std::size_t lamp_count() const { return finder_.lamp_count(); }
    /// Paths kept, over all receptors.
    std::size_t path_count() const;

  private:
    struct Ledger;

    void find_bed_paths(const BedGrid& bed);
    void find_solid_paths(const Layout& layout, const std::vector<LightReceptor>& solids);
    std::size_t set_count() const {
        return bed_paths_.size() + colony_paths_.size() + solid_paths_.size();
    }
    void note_boxes(PathSet& set, bool fresh) const;
    PathSet& set_at(std::size_t i) {
        if (i < bed_paths_.size()) return bed_paths_[i];
        i -= bed_paths_.size();
        return i < colony_paths_.size() ? colony_paths_[i] : solid_paths_[i - colony_paths_.size()];
    }
    ColonyLight colony_light(const PathSet& set, const LampsToday& today) const;

    PathFinder finder_;
    LightScene now_, baseline_;
    std::vector<PathSet> bed_paths_;     // by row of cells
    std::vector<PathSet> colony_paths_;  // by colony
    std::vector<PathSet> solid_paths_;   // some receptors each
    std::vector<Box> boxes_;             // by colony: all it has stood in so far, with room to grow
    BoxIndex box_index_;                 // of boxes_
    bool indexed_ = false;
    std::vector<int> changed_;      // colonies placed since the last settle
    std::vector<int> moved_boxes_;  // of those, the ones whose box had to change
    std::vector<char> fresh_;       // by set: its paths are new
};

}  // namespace bedshade
