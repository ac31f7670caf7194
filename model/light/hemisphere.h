// Hemisphere sampler: low-discrepancy directions over the hemisphere (or sphere) of a receptor.
#pragma once

#include <cstdint>

#include "model/base/geometry.h"

namespace bedshade {

/// Samples the hemisphere in front of a planar receptor, or the whole sphere for a scalar one (zero
/// normal).
class HemisphereSampler {
  public:
    /// `key` selects the random shift of the set, so that sets with different keys do not line up.
    HemisphereSampler(const Vec3& normal, std::uint32_t key);

    /// Direction `k`: cosine-weighted about the normal (Lambert's law), or uniform on the sphere.
    /// Unit vector.
    Eigen::Vector3f direction(std::uint32_t k) const;

    /// Random shift of the set (Cranley-Patterson rotation), each in [0, 1).
    const Vec2& shift() const { return shift_; }

    /// Irradiance on the receptor per mean exitance over its directions: in uniform light a scalar
    /// sensor receives four times as much as a planar one.
    double irradiance_per_exitance() const { return scalar_ ? 4.0 : 1.0; }

  private:
    bool scalar_;
    Vec3 normal_, across_, up_;  // a right-handed frame
    Vec2 shift_;
};

}  // namespace bedshade
