// What stands in the way of light paths, kept from day to day and traced again only where something
// has changed.
//
// A set of paths belongs to one bed row or one colony. For every colony it remembers which of its
// paths pass through that colony's box (its bounds with room to grow): only those can change when
// that colony does. Tracing those alone gives the same bits as tracing everything.
#pragma once

#include <vector>

#include "model/light/box_index.h"
#include "model/light/light_scene.h"
#include "model/light/path_finder.h"
#include "model/light/shade_share.h"

namespace bedshade {

/// Who takes the light of one path to a colony.
struct PathShade {
    double through_as_set = 1.0;  ///< left with every other colony as on day 0 (rock: 0) [1]
    bool rock = false;            ///< rock ends it, and no colony is to blame
    std::vector<ShadeShare>
        attenuation_by_colony;  ///< by each colony in the way; adds up to what is not let through
    std::vector<ShadeShare> attenuation_baseline;
};

/// The paths to a row of receptors and what stands in each.
class PathSet {
  public:
    /// `owner`: the colony whose receptors these are. Its own body never shades it. Without one
    /// (-1: the bed) it is only kept how much gets through, not who takes the rest.
    PathSet(int owner, std::size_t colonies) : owner_(owner), touching_(colonies) {}

    /// Takes up receptors and finds the paths to them; nothing is traced yet. `first_key` tells
    /// their receptors from those of other sets.
    void find_paths(const PathFinder& finder, std::vector<LightReceptor> receptors,
                    std::uint32_t first_key);

    /// Notes which paths pass through each colony's box.
    void note_touching(const BoxIndex& boxes, const MirrorImages& mirrors);
    /// The same for one colony's box; an empty box is passed by none.
    void note_touching(int colony, const Box& box, const MirrorImages& mirrors);

    /// Paths that any of these colonies can have changed, then traces them.
    void trace_touching(const std::vector<int>& colonies, const MirrorImages& mirrors,
                        const LightScene& now, const LightScene& baseline);
    void trace_all(const MirrorImages& mirrors, const LightScene& now, const LightScene& baseline);

    int owner() const { return owner_; }
    const std::vector<LightReceptor>& receptors() const { return receptors_; }
    /// Paths of receptor r: [first(r), first(r + 1)).
    std::size_t first(std::size_t receptor) const { return first_[receptor]; }
    const LightPath& path(std::size_t p) const { return paths_[p]; }
    /// Share of a path's light that what stands in it lets through [1].
    double through(std::size_t p) const { return through_[p]; }
    /// Who takes the rest; null where nobody does or nobody is to be known.
    const PathShade* shade(std::size_t p) const {
        return shade_[p] < 0 ? nullptr : &shades_[static_cast<std::size_t>(shade_[p])];
    }
    std::size_t path_count() const { return paths_.size(); }

  private:
    void trace(std::size_t p, const MirrorImages& mirrors, const LightScene& now,
               const LightScene& baseline);
    void trace_without_attribution(std::size_t p, const MirrorImages& mirrors,
                                   const LightScene& now);
    void add_touching(int colony, std::size_t p);
    PathShade& shade_for(std::size_t p);
    void clear_shade(std::size_t p);

    int owner_;
    std::vector<LightReceptor> receptors_;
    std::vector<std::size_t> first_;
    std::vector<LightPath> paths_;
    std::vector<double> through_;  // by path
    std::vector<int> shade_;       // by path, index into shades_ or -1
    std::vector<PathShade> shades_;
    std::vector<int> free_;                             // shades_ that no path uses
    std::vector<std::vector<std::uint32_t>> touching_;  // by colony
};

}  // namespace bedshade
