// Triangles, as shapes hand them to the ray-tracing scene.
#pragma once

#include <Eigen/Core>
#include <array>
#include <cstdint>
#include <vector>

namespace bedshade {

/// A closed surface, triangles counter-clockwise seen from outside. Metres.
struct TriangleMesh {
    std::vector<Eigen::Vector3f> vertices_m;
    std::vector<std::array<std::uint32_t, 3>> triangles;
};

}  // namespace bedshade
