#include "model/light/solid_patches.h"

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <map>

#include "model/light/rock_mesh.h"
#include "model/reef/reflectance.h"

namespace bedshade {
namespace {

constexpr double kPatchCube_m = 0.06;
constexpr double kMaxPatchesPerRock = 200.0;  // approximate
constexpr double kPanel_m = 0.075;
constexpr double kOffSurface_m = 1e-4;  // distance of receptors from their surface
constexpr int kMaxDivisions = 40;       // of a triangle's side, for samples over it

using Corners = std::array<Vec3, 3>;

double area_m2(const TriangleMesh& mesh) {
    double area = 0.0;
    for (std::size_t t = 0; t < mesh.triangles.size(); ++t) {
        const auto [a, b, c] = corners_m(mesh, t);
        area += 0.5 * (b - a).cross(c - a).norm();
    }
    return area;
}

/// Calls `visit(point)` for evenly distributed points on a triangle, at most `apart_m` apart.
template <class Take>
void sample_triangle(const Corners& corners, double apart_m, Take visit) {
    const auto& [a, b, c] = corners;
    const double longest = std::max({(b - a).norm(), (c - b).norm(), (a - c).norm()});
    const int divisions =
        std::clamp(static_cast<int>(std::ceil(longest / apart_m)), 1, kMaxDivisions);
    for (int i = 0; i < divisions; ++i)
        for (int j = 0; i + j < divisions; ++j) {
            const double u = (i + 1.0 / 3.0) / divisions, v = (j + 1.0 / 3.0) / divisions;
            visit(Vec3(a + u * (b - a) + v * (c - a)));
        }
}

double diffuse_reflectance(const Wall& wall) {
    if (wall.kind == WallKind::coralline) return kCorallineReflectance;
    return wall.kind == WallKind::diffuse ? wall.reflectance : 0.0;
}

/// The axis direction nearest to a unit vector, with sign: 0 to 5.
std::uint64_t facing_axis(const Vec3& normal) {
    Eigen::Index axis = 0;
    normal.cwiseAbs().maxCoeff(&axis);
    return static_cast<std::uint64_t>(2 * axis + (normal[axis] > 0.0 ? 0 : 1));
}

}  // namespace

const LightReceptor& central_receptor(const std::vector<LightReceptor>& receptors) {
    Vec3 mean = Vec3::Zero();
    for (const LightReceptor& r : receptors)
        mean += r.position_m / static_cast<double>(receptors.size());
    return *std::min_element(receptors.begin(), receptors.end(), [&](const auto& a, const auto& b) {
        return (a.position_m - mean).squaredNorm() < (b.position_m - mean).squaredNorm();
    });
}

SolidPatches::SolidPatches(const Layout& layout) : tank_(layout.tank) {
    for (const Rock& rock : layout.rocks) {
        const TriangleMesh mesh = rock_mesh(rock);
        first_of_rock_.push_back(static_cast<int>(size()));
        cube_m_.push_back(std::max(kPatchCube_m, std::sqrt(area_m2(mesh) / kMaxPatchesPerRock)));
        add_rock(static_cast<int>(cube_m_.size()) - 1, mesh, rock.reflectance);
    }
    first_of_rock_.push_back(static_cast<int>(size()));
    for (const Side side : {Side::front, Side::back, Side::left, Side::right}) {
        const double reflectance = diffuse_reflectance(tank_.wall(side));
        if (reflectance > 0.0) add_wall(side, reflectance);
    }
}

std::uint64_t SolidPatches::key(int rock, const Vec3& at_m, const Vec3& normal) const {
    const double cube = cube_m_[static_cast<std::size_t>(rock)];
    std::uint64_t packed = static_cast<std::uint64_t>(rock);
    for (int axis = 0; axis < 3; ++axis) {
        // Shifted by an odd fraction of a cube, so that faces at round coordinates do not alternate
        // between two cubes.
        const double place = std::clamp(std::floor(at_m[axis] / cube + 0.37), -500.0, 500.0);
        packed = packed * 1024 + static_cast<std::uint64_t>(place + 512.0);
    }
    return packed * 8 + facing_axis(normal);
}

void SolidPatches::add_rock(int rock, const TriangleMesh& mesh, double reflectance) {
    const Box water{Vec3::Zero(), Vec3(tank_.length_m, tank_.width_m, tank_.water_depth_m)};
    // Ordered by key, so that the order of patches is deterministic.
    std::map<std::uint64_t, std::vector<LightReceptor>> patches;
    for (std::size_t t = 0; t < mesh.triangles.size(); ++t) {
        const Corners corners = corners_m(mesh, t);
        const Vec3 across = (corners[1] - corners[0]).cross(corners[2] - corners[0]);
        if (!(across.norm() > 0.0)) continue;
        const Vec3 normal = across.normalized();
        sample_triangle(
            corners, cube_m_[static_cast<std::size_t>(rock)] / 4.0, [&](const Vec3& at) {
                const Vec3 at_receptor = at + kOffSurface_m * normal;
                if (water.contains(at_receptor))
                    patches[key(rock, at, normal)].push_back({at_receptor, normal, 1.0});
            });
    }
    for (const auto& [patch_key, patch] : patches) {
        by_key_[patch_key] = static_cast<int>(size());
        receptors_.push_back(central_receptor(patch));
        reflectance_.push_back(reflectance);
    }
}

int SolidPatches::nearest_patch(int rock, const Vec3& at_m) const {
    const auto r = static_cast<std::size_t>(rock);
    int nearest = -1;
    double least_distance = 1e300;
    for (int i = first_of_rock_[r]; i < first_of_rock_[r + 1]; ++i) {
        const double distance = (receptors_[static_cast<std::size_t>(i)].position_m - at_m).norm();
        if (distance < least_distance) {
            least_distance = distance;
            nearest = i;
        }
    }
    return nearest;
}

int SolidPatches::rock_patch_at(int rock, const Eigen::Vector3f& at_m,
                                const Eigen::Vector3f& normal) const {
    const Vec3 at = at_m.cast<double>();
    const auto found = by_key_.find(key(rock, at, normal.cast<double>()));
    return found != by_key_.end() ? found->second : nearest_patch(rock, at);
}

void SolidPatches::add_wall(Side side, double reflectance) {
    const bool across = side == Side::left || side == Side::right;
    const double length = across ? tank_.width_m : tank_.length_m;
    const auto divisions = [](double l) {
        return std::clamp(static_cast<int>(std::lround(l / kPanel_m)), 1, 100);
    };
    Panels& panels = panels_[static_cast<std::size_t>(side)];
    panels = {static_cast<int>(size()), divisions(length), divisions(tank_.water_depth_m), 0.0F,
              0.0F};
    panels.per_m_along = static_cast<float>(panels.along / length);
    panels.per_m_up = static_cast<float>(panels.up / tank_.water_depth_m);
    const bool low = side == Side::front || side == Side::left;
    const double at_receptor =
        low ? kOffSurface_m : (across ? tank_.length_m : tank_.width_m) - kOffSurface_m;
    const Vec3 inward = (low ? 1.0 : -1.0) * (across ? Vec3::UnitX() : Vec3::UnitY());
    for (int k = 0; k < panels.up; ++k)
        for (int i = 0; i < panels.along; ++i) {
            const double s = (i + 0.5) / panels.along * length;
            const double z = (k + 0.5) / panels.up * tank_.water_depth_m;
            receptors_.push_back(
                {across ? Vec3(at_receptor, s, z) : Vec3(s, at_receptor, z), inward, 1.0});
            reflectance_.push_back(reflectance);
        }
}

int SolidPatches::wall_patch_at(Side side, const Eigen::Vector3f& at_m) const {
    const Panels& panels = panels_[static_cast<std::size_t>(side)];
    if (panels.first < 0) return -1;
    const float s = side == Side::left || side == Side::right ? at_m.y() : at_m.x();
    const int i = std::clamp(static_cast<int>(s * panels.per_m_along), 0, panels.along - 1);
    const int k = std::clamp(static_cast<int>(at_m.z() * panels.per_m_up), 0, panels.up - 1);
    return panels.first + k * panels.along + i;
}

}  // namespace bedshade
