// The bounding volume hierarchy against brute force, and watertight closed surfaces.
#include "model/monte_carlo/triangle_bvh.h"

#include <Eigen/Geometry>
#include <catch2/catch.hpp>
#include <cmath>

#include "model/base/random.h"
#include "model/light/rock_mesh.h"
#include "model/monte_carlo/surfaces.h"

using namespace bedshade;
using namespace bedshade::monte_carlo;

namespace {

Vec3 point(RandomStream& random) {
    const double x = random.uniform(), y = random.uniform(), z = random.uniform();
    return {x, y, z};
}

Vec3 direction(RandomStream& random) {
    const double u = random.uniform(), v = random.uniform();
    return isotropic(u, v);
}

TriangleMesh soup(RandomStream& random, std::uint32_t triangles) {
    TriangleMesh mesh;
    for (std::uint32_t t = 0; t < triangles; ++t) {
        const Vec3 middle = point(random);
        for (int corner = 0; corner < 3; ++corner)
            mesh.vertices_m.push_back((middle + 0.2 * point(random)).cast<float>());
        mesh.triangles.push_back({3 * t, 3 * t + 1, 3 * t + 2});
    }
    return mesh;
}

/// Distance to a triangle by solving for barycentric coordinates.
double distance_by_solving(const Ray& ray, const TriangleMesh& mesh, std::size_t t) {
    const auto& corner = mesh.triangles[t];
    const Vec3 a = mesh.vertices_m[corner[0]].cast<double>();
    Eigen::Matrix3d columns;
    columns << mesh.vertices_m[corner[1]].cast<double>() - a,
        mesh.vertices_m[corner[2]].cast<double>() - a, -ray.direction;
    const Vec3 solved = columns.inverse() * (ray.from_m - a);
    const bool within = solved.x() >= 0.0 && solved.y() >= 0.0 && solved.x() + solved.y() <= 1.0;
    return within && solved.z() > 0.0 ? solved.z() : std::numeric_limits<double>::infinity();
}

}  // namespace

TEST_CASE("the hierarchy finds the same hits as brute force", "[reference]") {
    RandomStream random(3, 0, Process::monte_carlo, 0, 0);
    const TriangleMesh mesh = soup(random, 500);
    TriangleBvh tree;
    tree.add(mesh, 4);
    tree.build();
    int hits = 0;
    for (int r = 0; r < 3000; ++r) {
        const Ray ray{point(random), direction(random)};
        double nearest = std::numeric_limits<double>::infinity();
        std::size_t passed = 0;
        for (std::size_t t = 0; t < mesh.triangles.size(); ++t) {
            const double distance = distance_by_solving(ray, mesh, t);
            nearest = std::min(nearest, distance);
            passed += std::isfinite(distance) ? 1 : 0;
        }
        const Hit met = tree.nearest(ray, 10.0);
        std::vector<Hit> all;
        tree.all(ray, all);
        REQUIRE(all.size() == passed);
        REQUIRE(met.any() == std::isfinite(nearest));
        if (!met.any()) continue;
        ++hits;
        REQUIRE(met.distance_m == Approx(nearest).epsilon(1e-9));
        REQUIRE(tree.body(met.triangle) == 4);
        REQUIRE_FALSE(tree.nearest(ray, 0.999 * nearest).any());
    }
    CHECK(hits > 500);
}

TEST_CASE("no ray leaves a closed surface or hits an edge twice", "[reference]") {
    Rock dome;
    dome.shape = RockDome{Vec3(0.0, 0.0, 0.0), 0.15, 0.2};
    const TriangleMesh mesh = rock_mesh(dome);
    TriangleBvh tree;
    tree.add(mesh, 0);
    tree.build();
    RandomStream random(5, 0, Process::monte_carlo, 0, 0);
    for (int r = 0; r < 50'000; ++r) {
        // Toward a point on an edge, where two triangles could both hit or both miss.
        const auto& corner = mesh.triangles[static_cast<std::size_t>(r) % mesh.triangles.size()];
        const Vec3 a = mesh.vertices_m[corner[0]].cast<double>();
        const Vec3 b = mesh.vertices_m[corner[1]].cast<double>();
        const double share = random.uniform();
        const Vec3 from = Vec3(0.0, 0.0, 0.05) + 0.03 * direction(random);
        const Vec3 toward = ((1.0 - share) * a + share * b - from).normalized();
        std::vector<Hit> all;
        tree.all({from, toward}, all);
        REQUIRE(all.size() == 1);
        REQUIRE_FALSE(all.front().from_outside);
    }
}
