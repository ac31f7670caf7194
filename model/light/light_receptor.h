// Light receptors: points and small areas at which light is computed.
#pragma once

#include <cstdint>

#include "model/base/bed_grid.h"
#include "model/base/geometry.h"

namespace bedshade {

/// A point at which irradiance is computed. A zero normal makes it a scalar sensor (light from all
/// directions counts in full); otherwise it is a planar sensor that faces along the unit vector.
///
/// The receptors of a colony face along its axis, wherever on its surface they are, and its own
/// body does not shade them: photosynthesis curves are measured on whole pieces of coral against
/// the light on a flat sensor beside them, so the effect of a coral's own shape on its light is
/// already contained in its Ek.
struct LightReceptor {
    Vec3 position_m = Vec3::Zero();
    Vec3 normal = Vec3::UnitZ();
    double area_m2 = 1.0;  ///< its weight in means over a colony
    Vec2 half_width_m =
        Vec2::Zero();  ///< of a horizontal rectangle whose mean light it represents; zero: a point
};

/// The receptor of a bed cell: its whole area, just above the sand.
LightReceptor bed_receptor(const BedGrid& bed, int i, int j);

/// Sample point `k` on the area of a receptor; the whole low-discrepancy set is shifted by `shift`
/// (each in [0, 1)).
Vec3 sample_point(const LightReceptor& receptor, std::uint32_t k, const Vec2& shift);

}  // namespace bedshade
