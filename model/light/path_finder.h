// Every way that light can take from the lamps to a receptor, before water and shade take any of
// it: straight down, by way of the mirroring sides, and off or through the dry glass above them.
#pragma once

#include <cstdint>
#include <vector>

#include "model/base/bed_grid.h"
#include "model/light/dry_rim.h"
#include "model/light/emitter.h"
#include "model/light/mirror_images.h"
#include "model/reef/layout.h"

namespace bedshade {

/// A point that light falls on. A zero normal makes it a scalar sensor (light from all sides counts
/// in full); otherwise it is a flat one facing along the unit vector.
///
/// The receptors of a colony face along its axis, wherever on its surface they sit, and its own
/// body does not shade them: photosynthesis curves are measured on whole pieces of coral against
/// the light on a flat sensor beside them, so what a coral's own shape does to light is in its Ek
/// already.
struct LightReceptor {
    Vec3 position_m = Vec3::Zero();
    Vec3 normal = Vec3::UnitZ();
    double area_m2 = 1.0;              ///< its weight in means over a colony
    Vec2 half_width_m = Vec2::Zero();  ///< of a level rectangle whose mean light it stands for
};

/// Where the light of a bed cell is taken: all over it, just above the sand.
LightReceptor bed_receptor(const BedGrid& bed, int i, int j);

/// Site `k` of those spread over a receptor, the whole set shifted by `shift` (each in [0, 1)).
Vec3 site_of(const LightReceptor& receptor, std::uint32_t k, const Vec2& shift);

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
