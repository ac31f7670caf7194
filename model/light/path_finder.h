// Finds the light paths from the lamps to a receptor, before absorption and occlusion: direct, by
// specular reflection at the sides (method of images), and by reflection or transmission at the dry
// rim.
#pragma once

#include <cstdint>
#include <vector>

#include "model/light/dry_rim.h"
#include "model/light/emitter.h"
#include "model/light/light_receptor.h"
#include "model/light/mirror_images.h"
#include "model/reef/layout.h"

namespace bedshade {

/// One refracted path from a point of a lamp to a receptor, before absorption and occlusion.
struct LightPath {
    Eigen::Vector3f from;       ///< on the receptor
    Eigen::Vector3f direction;  ///< from the receptor, in the tank
    int lamp = 0;
    double length_m = 0.0;  ///< under water, over all reflections
    double weight = 0.0;  ///< PPFD at full output under the cover, before absorption and occlusion
};

class PathFinder {
  public:
    /// `samples` points on each extended lamp for the direct path to each receptor, a quarter of
    /// them for each reflected path, on which the lamp is farther away.
    PathFinder(const Layout& layout, int samples);

    /// Appends every path to a receptor. `key` identifies the receptor: each samples the lamp faces
    /// at its own set of points, so that the steps in their penumbras do not line up.
    void paths_to(const LightReceptor& receptor, std::uint32_t key,
                  std::vector<LightPath>& out) const;

    std::size_t lamp_count() const { return emitters_.size(); }
    const MirrorImages& mirrors() const { return mirrors_; }

  private:
    void add_paths(const LightReceptor& receptor, int lamp, MirrorImages::Cell cell,
                   std::uint32_t key, std::vector<LightPath>& out) const;
    Tank tank_;
    double refractive_index_;
    int samples_;
    std::vector<Emitter> emitters_;
    std::vector<double> photon_flux_umol_s_;  // by lamp, at full output
    DryRim rim_;
    MirrorImages mirrors_;
};

}  // namespace bedshade
