// Light receptors: points and small areas at which light is computed.
#pragma once

#include <cstdint>

#include "model/base/bed_grid.h"
#include "model/base/geometry.h"

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

}  // namespace bedshade
