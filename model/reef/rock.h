// Rock: solid shapes that carry corals, throw shade and steer flow.
#pragma once

#include <array>
#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "model/base/geometry.h"

namespace bedshade {

struct RockBox {
    Vec3 min_m, max_m;
};
/// A box of `size` about `centre`, tilted by `tilt` toward `azimuth`.
struct RockSlab {
    Vec3 centre_m, size_m;
    double tilt_rad = 0.0, azimuth_rad = 0.0;
};
/// Half an ellipsoid standing on a circle about `centre` (its base).
struct RockDome {
    Vec3 centre_m;
    double radius_m = 0.0, height_m = 0.0;
};
/// Triangles, already placed in the tank.
struct RockMesh {
    std::vector<Vec3> vertices_m;
    std::vector<std::array<int, 3>> triangles;
};

enum class RestsOn { glass, sand, rock, wall };

struct Rock {
    std::string name;
    std::variant<RockBox, RockSlab, RockDome, RockMesh> shape;
    double reflectance = 0.15;  ///< diffuse, 400-700 nm [1]
    RestsOn rests_on = RestsOn::glass;
};

/// Whether a point lies inside the rock (a mesh: never; its triangles are tested by rays).
bool inside(const Rock& rock, const Vec3& point_m);

/// Height of the rock's upper surface above (x, y) [m], or nothing where the rock is not.
std::optional<double> top_at(const Rock& rock, double x_m, double y_m);

}  // namespace bedshade
