// Solids as triangles, for tests of what mesh rock does.
#pragma once

#include <Eigen/Geometry>
#include <array>
#include <cmath>
#include <vector>

#include "model/reef/rock.h"

namespace bedshade::test {

/// A box, each side two triangles.
inline RockMesh box_as_mesh(const Vec3& min_m, const Vec3& max_m) {
    std::vector<Vec3> corners_m;
    for (int i = 0; i < 8; ++i)
        corners_m.emplace_back(i & 1 ? max_m.x() : min_m.x(), i & 2 ? max_m.y() : min_m.y(),
                               i & 4 ? max_m.z() : min_m.z());
    return {corners_m,
            {{0, 2, 1},
             {1, 2, 3},
             {4, 5, 6},
             {5, 7, 6},
             {0, 1, 4},
             {1, 5, 4},
             {2, 6, 3},
             {3, 6, 7},
             {0, 4, 2},
             {2, 4, 6},
             {1, 3, 5},
             {3, 7, 5}}};
}

/// A dome drawn with `around` sectors and `rings` rings, its corners on the true surface.
inline RockMesh dome_as_mesh(const RockDome& dome, int around, int rings) {
    std::vector<Vec3> vertices_m{dome.centre_m, dome.centre_m + Vec3(0, 0, dome.height_m)};
    for (int ring = 0; ring < rings; ++ring)
        for (int k = 0; k < around; ++k) {
            const double angle = 2.0 * kPi * k / around, rise = 0.5 * kPi * ring / rings;
            const double r = dome.radius_m * std::cos(rise);
            vertices_m.push_back(dome.centre_m + Vec3(r * std::cos(angle), r * std::sin(angle),
                                                      dome.height_m * std::sin(rise)));
        }
    std::vector<std::array<int, 3>> triangles;
    const auto at = [&](int ring, int k) { return 2 + ring * around + k % around; };
    for (int k = 0; k < around; ++k) {
        triangles.push_back({0, at(0, k + 1), at(0, k)});
        for (int ring = 0; ring + 1 < rings; ++ring) {
            triangles.push_back({at(ring, k), at(ring, k + 1), at(ring + 1, k)});
            triangles.push_back({at(ring, k + 1), at(ring + 1, k + 1), at(ring + 1, k)});
        }
        triangles.push_back({at(rings - 1, k), at(rings - 1, k + 1), 1});
    }
    return {vertices_m, triangles};
}

/// What closed triangles that face outward hold, by the divergence theorem [m3].
inline double volume_m3(const Solid& solid) {
    double six_volumes = 0.0;
    const auto vertex = [&](int v) { return solid.vertices_m()[static_cast<std::size_t>(v)]; };
    for (const auto& [a, b, c] : solid.triangles())
        six_volumes += vertex(a).dot(vertex(b).cross(vertex(c)));
    return six_volumes / 6.0;
}

}  // namespace bedshade::test
