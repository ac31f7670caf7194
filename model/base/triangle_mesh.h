// Triangle mesh for ray tracing.
#pragma once

#include <Eigen/Core>
#include <array>
#include <cstddef>
#include <cstdint>
#include <vector>

namespace bedshade {

/// A closed surface, triangles counter-clockwise seen from outside. Metres.
struct TriangleMesh {
    std::vector<Eigen::Vector3f> vertices_m;
    std::vector<std::array<std::uint32_t, 3>> triangles;
};

/// Corners of triangle `t` of a mesh [m].
inline std::array<Eigen::Vector3d, 3> corners_m(const TriangleMesh& mesh, std::size_t t) {
    const auto at = [&](std::size_t corner) {
        return Eigen::Vector3d(mesh.vertices_m[mesh.triangles[t][corner]].cast<double>());
    };
    return {at(0), at(1), at(2)};
}

}  // namespace bedshade
