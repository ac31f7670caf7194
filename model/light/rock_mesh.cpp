#include "model/light/rock_mesh.h"

#include <Eigen/Geometry>
#include <cmath>

namespace bedshade {
namespace {

constexpr std::uint32_t kAround = 48;
constexpr std::uint32_t kRings = 12;

/// A box spanned by half axes about a centre.
TriangleMesh box_mesh(const Vec3& centre, const Eigen::Matrix3d& half_axes) {
    TriangleMesh mesh;
    for (int corner = 0; corner < 8; ++corner) {
        const Vec3 signs(corner & 1 ? 1 : -1, corner & 2 ? 1 : -1, corner & 4 ? 1 : -1);
        mesh.vertices_m.emplace_back((centre + half_axes * signs).cast<float>());
    }
    mesh.triangles = {{0, 2, 1}, {1, 2, 3}, {4, 5, 6}, {5, 7, 6}, {0, 1, 4}, {1, 5, 4},
                      {2, 6, 3}, {3, 6, 7}, {0, 4, 2}, {2, 4, 6}, {1, 3, 5}, {3, 7, 5}};
    return mesh;
}

TriangleMesh dome_mesh(const RockDome& dome) {
    const double step = 2.0 * kPi / kAround;
    const double widen = std::sqrt(step / std::sin(step));  // polygon area = circle area
    TriangleMesh mesh;
    for (std::uint32_t ring = 0; ring < kRings; ++ring) {
        const double rise = 0.5 * kPi * ring / kRings;
        const double r = widen * dome.radius_m * std::cos(rise);
        for (std::uint32_t k = 0; k < kAround; ++k) {
            const double angle = step * k;
            mesh.vertices_m.emplace_back(
                (dome.centre_m +
                 Vec3(r * std::cos(angle), r * std::sin(angle), dome.height_m * std::sin(rise)))
                    .cast<float>());
        }
    }
    const auto top = static_cast<std::uint32_t>(mesh.vertices_m.size());
    mesh.vertices_m.emplace_back((dome.centre_m + dome.height_m * Vec3::UnitZ()).cast<float>());
    mesh.vertices_m.emplace_back(dome.centre_m.cast<float>());
    for (std::uint32_t k = 0; k < kAround; ++k) {
        const std::uint32_t next = (k + 1) % kAround;
        for (std::uint32_t ring = 0; ring + 1 < kRings; ++ring) {
            const std::uint32_t low = ring * kAround;
            const std::uint32_t high = low + kAround;
            mesh.triangles.push_back({low + k, low + next, high + k});
            mesh.triangles.push_back({low + next, high + next, high + k});
        }
        const std::uint32_t last = (kRings - 1) * kAround;
        mesh.triangles.push_back({last + k, last + next, top});
        mesh.triangles.push_back({next, k, top + 1});
    }
    return mesh;
}

struct ToMesh {
    TriangleMesh operator()(const RockBox& box) const {
        const Vec3 half = 0.5 * (box.max_m - box.min_m);
        return box_mesh(0.5 * (box.min_m + box.max_m), half.asDiagonal());
    }
    TriangleMesh operator()(const RockSlab& slab) const {
        const Eigen::Matrix3d frame = (Eigen::AngleAxisd(slab.azimuth_rad, Vec3::UnitZ()) *
                                       Eigen::AngleAxisd(slab.tilt_rad, Vec3::UnitY()))
                                          .toRotationMatrix();
        return box_mesh(slab.centre_m, frame * (0.5 * slab.size_m).asDiagonal());
    }
    TriangleMesh operator()(const RockDome& dome) const { return dome_mesh(dome); }
    TriangleMesh operator()(const RockMesh& rock) const {
        TriangleMesh mesh;
        for (const Vec3& v : rock.solid().vertices_m())
            mesh.vertices_m.emplace_back(v.cast<float>());
        for (const auto& t : rock.solid().triangles())
            mesh.triangles.push_back({static_cast<std::uint32_t>(t[0]),
                                      static_cast<std::uint32_t>(t[1]),
                                      static_cast<std::uint32_t>(t[2])});
        return mesh;
    }
};

}  // namespace

TriangleMesh rock_mesh(const Rock& rock) { return std::visit(ToMesh{}, rock.shape); }

}  // namespace bedshade
