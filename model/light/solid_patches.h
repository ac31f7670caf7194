// Rock and diffuse walls cut into pieces that each throw light back as one.
//
// Rock has a low albedo, so a piece of some centimetres is as fine as its light need be known. A
// piece is the part of a surface that faces one way (of the six along the axes) within one cube of
// a grid laid over the tank.
#pragma once

#include <cstdint>
#include <unordered_map>
#include <vector>

#include "model/base/triangle_mesh.h"
#include "model/light/light_receptor.h"
#include "model/reef/layout.h"

namespace bedshade {

/// Of receptors (at least one), the one nearest to the middle of them all.
const LightReceptor& middle_of(const std::vector<LightReceptor>& receptors);

class SolidPatches {
  public:
    explicit SolidPatches(const Layout& layout);

    std::size_t size() const { return receptors_.size(); }
    /// Where a piece's light is taken: on its surface, facing outward.
    const std::vector<LightReceptor>& receptors() const { return receptors_; }
    /// Diffuse, by piece [1].
    double reflectance(std::size_t piece) const { return reflectance_[piece]; }

    /// The piece of rock at a spot of its surface with this outward normal; -1 for a rock with
    /// none in the water.
    int on_rock(int rock, const Eigen::Vector3f& at_m, const Eigen::Vector3f& normal) const;
    /// The piece of wall at a spot; -1 where the side is not diffuse.
    int on_wall(Side side, const Eigen::Vector3f& at_m) const;

  private:
    /// Panels of one side, counted along it and up.
    struct Panels {
        int first = -1;
        int along = 0, up = 0;
        float per_m_along = 0.0F, per_m_up = 0.0F;
    };

    void add_rock(int rock, const TriangleMesh& mesh, double reflectance);
    void add_wall(Side side, double reflectance);
    std::uint64_t key(int rock, const Vec3& at_m, const Vec3& normal) const;
    int nearest_on(int rock, const Vec3& at_m) const;

    Tank tank_;
    std::vector<LightReceptor> receptors_;
    std::vector<double> reflectance_;
    std::vector<double> cube_m_;      // by rock
    std::vector<int> first_of_rock_;  // by rock, and one more
    std::unordered_map<std::uint64_t, int> by_key_;
    std::array<Panels, 4> panels_;  // by Side
};

}  // namespace bedshade
