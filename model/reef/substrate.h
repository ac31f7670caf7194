// The sand bed: grain, depth, reflectance, and patches that differ.
#pragma once

#include <string>
#include <vector>

#include "model/base/geometry.h"

namespace bedshade {

struct SubstratePatch {
    std::string name;
    Vec2 around_m = Vec2::Zero();
    double radius_m = 0.0;
    double grain_m = 0.0;  ///< median diameter
};

struct Substrate {
    double grain_m = 1.0e-3;  ///< median diameter
    double density_kg_m3 = 2750.0;
    double porosity = 0.45;
    double depth_m = 0.05;
    double reflectance = 0.40;  ///< diffuse, 400-700 nm [1]
    std::vector<SubstratePatch> patches;

    /// Median grain at a point: that of the last patch that covers it [m].
    double grain_at_m(const Vec2& spot_m) const {
        double grain = grain_m;
        for (const auto& patch : patches)
            if ((spot_m - patch.around_m).norm() <= patch.radius_m) grain = patch.grain_m;
        return grain;
    }
};

}  // namespace bedshade
