// Every way that light can take from the lamps to a receptor, before water and shade take any of
// it: straight down, by way of the mirroring sides, and off or through the dry glass above them.
#pragma once

#include <cstdint>
#include <vector>

#include "model/light/dry_rim.h"
#include "model/light/emitter.h"
#include "model/light/light_receptor.h"
#include "model/light/mirror_images.h"
#include "model/reef/layout.h"

namespace bedshade {

/// One refracted path from a point of a lamp to a receptor, before absorption and shade.
struct LightPath {
    Eigen::Vector3f from;       ///< on the receptor
    Eigen::Vector3f direction;  ///< from the receptor, in the tank
    int lamp = 0;
    double length_m = 0.0;  ///< under water, bounces included
    double weight = 0.0;    ///< PPFD at full output under the cover, absorption and shade aside
};

class PathFinder {
  public:
    /// `samples` points on each extended lamp for the straight way to each receptor, a quarter of
    /// them for each way by the sides, where the lamp is farther off.
    PathFinder(const Layout& layout, int samples);

    /// Appends every path to a receptor. `key` tells receptors apart: each sees the lamps' faces
    /// from its own set of points, so that the steps in their penumbras do not line up.
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
