// Occlusion (visibility) cache of the light paths: kept from day to day, and traced again only
// where the scene has changed.
//
// A path set belongs to one bed row or one colony. For every colony it stores which of its paths
// intersect that colony's box (its bounds plus a margin for growth): only those can change when
// that colony does. Tracing only those gives the same bits as tracing everything.
#pragma once

#include <vector>

#include "model/light/box_index.h"
#include "model/light/light_scene.h"
#include "model/light/path_finder.h"
#include "model/light/shade_share.h"

namespace bedshade {

/// Attenuation on one path to a colony, by neighbour.
struct PathShade {
    double transmittance_baseline = 1.0;  ///< with every other colony as on day 0 (rock: 0) [1]
    bool rock = false;  ///< rock blocks the path; nothing is attributed to colonies
    std::vector<ShadeShare>
        attenuation_by_colony;  ///< by each colony on the path; the sum is 1 - transmittance
    std::vector<ShadeShare> attenuation_baseline;
};

/// The paths to a set of receptors and the occlusion of each.
class PathSet {
  public:
    /// `owner`: the colony whose receptors these are. Its own body never shades it. Without an
    /// owner (-1: the bed) only the transmittance is stored, without attribution.
    PathSet(int owner, std::size_t colonies) : owner_(owner), affected_(colonies) {}

    /// Sets the receptors and finds the paths to them; nothing is traced yet. `first_key`
    /// distinguishes the receptors from those of other sets.
    void find_paths(const PathFinder& finder, std::vector<LightReceptor> receptors,
                    std::uint32_t first_key);

    /// Finds the paths that intersect each colony's box.
    void find_affected(const BoxIndex& boxes, const MirrorImages& mirrors);
    /// The same for one colony's box; no path intersects an empty box.
    void find_affected(int colony, const Box& box, const MirrorImages& mirrors);

    /// Traces the paths that a change of any of these colonies can affect.
    void trace_affected(const std::vector<int>& colonies, const MirrorImages& mirrors,
                        const LightScene& now, const LightScene& baseline);
    void trace_all(const MirrorImages& mirrors, const LightScene& now, const LightScene& baseline);

    int owner() const { return owner_; }
    const std::vector<LightReceptor>& receptors() const { return receptors_; }
    /// Paths of receptor r: [first(r), first(r + 1)).
    std::size_t first(std::size_t receptor) const { return first_[receptor]; }
    const LightPath& path(std::size_t p) const { return paths_[p]; }
    /// Transmittance of everything on a path together [1].
    double transmittance(std::size_t p) const { return transmittance_[p]; }
    /// Attribution of the loss; null on a clear path and in a set without owner.
    const PathShade* shade(std::size_t p) const {
        return shade_[p] < 0 ? nullptr : &shades_[static_cast<std::size_t>(shade_[p])];
    }
    std::size_t path_count() const { return paths_.size(); }

  private:
    void trace(std::size_t p, const MirrorImages& mirrors, const LightScene& now,
               const LightScene& baseline);
    void trace_without_attribution(std::size_t p, const MirrorImages& mirrors,
                                   const LightScene& now);
    void add_affected(int colony, std::size_t p);
    PathShade& shade_for(std::size_t p);
    void clear_shade(std::size_t p);

    int owner_;
    std::vector<LightReceptor> receptors_;
    std::vector<std::size_t> first_;
    std::vector<LightPath> paths_;
    std::vector<double> transmittance_;  // by path
    std::vector<int> shade_;             // by path, index into shades_ or -1
    std::vector<PathShade> shades_;
    std::vector<int> free_;                             // shades_ that no path uses
    std::vector<std::vector<std::uint32_t>> affected_;  // by colony
};

}  // namespace bedshade
