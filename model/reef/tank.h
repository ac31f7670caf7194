// The tank: dimensions and optical properties of its sides.
#pragma once

#include <array>
#include <cstddef>

namespace bedshade {

enum class WallKind { glass, acrylic, black, coralline, diffuse };

struct Wall {
    WallKind kind = WallKind::glass;
    double reflectance = 0.0;  ///< diffuse, 400-700 nm; used by `diffuse` only [1]
};

enum class Side : std::size_t { front = 0, back = 1, left = 2, right = 3 };

struct Tank {
    double length_m = 0.0;             ///< inner, along x
    double width_m = 0.0;              ///< inner, along y (front to back)
    double water_depth_m = 0.0;        ///< above the sand surface
    double rim_m = 0.0;                ///< dry glass above the water
    std::array<Wall, 4> walls;         ///< by Side
    double cover_transmittance = 1.0;  ///< of a lid or net [1]

    const Wall& wall(Side side) const { return walls[static_cast<std::size_t>(side)]; }
    Wall& wall(Side side) { return walls[static_cast<std::size_t>(side)]; }
};

}  // namespace bedshade
