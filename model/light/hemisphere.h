// Directions spread evenly over what a receptor looks out on.
#pragma once

#include <cstdint>

#include "model/base/geometry.h"

namespace bedshade {

/// The half-space a receptor faces, or all round for a scalar one (zero normal).
class HemisphereSampler {
  public:
    /// `key` turns the whole set of directions: sets with different keys do not line up.
    HemisphereSampler(const Vec3& normal, std::uint32_t key);

    /// Direction `k`: by Lambert's law about the normal, or evenly all round. Unit vector.
    Eigen::Vector3f direction(std::uint32_t k) const;

    /// By how much the set is turned, each in [0, 1).
    const Vec2& shift() const { return shift_; }

    /// Irradiance on the receptor for each mean exitance it sees: a scalar sensor gets four times
    /// what a flat one does in even light.
    double irradiance_per_exitance() const { return scalar_ ? 4.0 : 1.0; }

  private:
    bool scalar_;
    Vec3 normal_, across_, up_;  // a right-handed frame
    Vec2 shift_;
};

}  // namespace bedshade
