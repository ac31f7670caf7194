// Radiosity patches of rock and diffuse walls: each has one reflectance and one irradiance.
//
// Rock has a low albedo, so patches of a few centimetres are fine enough. A patch is the part of a
// surface that faces along one of the six axis directions within one cube of a grid over the tank.
#pragma once

#include <cstdint>
#include <unordered_map>
#include <vector>

#include "model/base/triangle_mesh.h"
#include "model/light/light_receptor.h"
#include "model/reef/layout.h"

namespace bedshade {

/// Of receptors (at least one), the one nearest to their centroid.
const LightReceptor& central_receptor(const std::vector<LightReceptor>& receptors);

class SolidPatches {
  public:
    explicit SolidPatches(const Layout& layout);

    std::size_t size() const { return receptors_.size(); }
    /// The receptor of each patch: on its surface, facing outward.
    const std::vector<LightReceptor>& receptors() const { return receptors_; }
    /// Diffuse reflectance of a patch [1].
    double reflectance(std::size_t patch) const { return reflectance_[patch]; }

    /// The patch of rock at a point of its surface with this outward normal; -1 for a rock without
    /// patches in the water.
    int rock_patch_at(int rock, const Eigen::Vector3f& at_m, const Eigen::Vector3f& normal) const;
    /// The patch of wall at a point; -1 where the side is not diffuse.
    int wall_patch_at(Side side, const Eigen::Vector3f& at_m) const;

  private:
    /// Panels of one side, numbered along it and upward.
    struct Panels {
        int first = -1;
        int along = 0, up = 0;
        float per_m_along = 0.0F, per_m_up = 0.0F;
    };

    void add_rock(int rock, const TriangleMesh& mesh, double reflectance);
    void add_wall(Side side, double reflectance);
    std::uint64_t key(int rock, const Vec3& at_m, const Vec3& normal) const;
    int nearest_patch(int rock, const Vec3& at_m) const;

    Tank tank_;
    std::vector<LightReceptor> receptors_;
    std::vector<double> reflectance_;
    std::vector<double> cube_m_;      // by rock
    std::vector<int> first_of_rock_;  // by rock, and one more
    std::unordered_map<std::uint64_t, int> by_key_;
    std::array<Panels, 4> panels_;  // by Side
};

}  // namespace bedshade
