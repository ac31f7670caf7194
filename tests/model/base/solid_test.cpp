// Mesh rock against the analytic shapes.
#include <catch2/catch.hpp>

#include "model/base/random.h"

#include "tests/meshes.h"

using namespace bedshade;
using namespace bedshade::test;

namespace {

RandomStream a_stream() { return {5, 0, Process::traits, 0, 0}; }

Vec3 place_in(const Box& box, RandomStream& random) {
    const Vec3 share(random.uniform(), random.uniform(), random.uniform());
    return box.min + share.cwiseProduct(box.max - box.min);
}

Box widened(const Box& box, double by_m) {
    return {box.min - Vec3::Constant(by_m), box.max + Vec3::Constant(by_m)};
}

}  // namespace

TEST_CASE("a box as a mesh has the same inclusion test and height as the box") {
    const Rock box{"box", RockBox{{0.1, 0.2, 0.0}, {0.5, 0.3, 0.2}}};
    const Rock mesh{"mesh", box_as_mesh({0.1, 0.2, 0.0}, {0.5, 0.3, 0.2})};
    auto random = a_stream();
    int within = 0;
    for (int i = 0; i < 20000; ++i) {
        const Vec3 p = place_in(widened(bounds_of(box), 0.05), random);
        within += inside(box, p);
        REQUIRE(inside(mesh, p) == inside(box, p));
        REQUIRE(top_at(mesh, p.x(), p.y()) == top_at(box, p.x(), p.y()));
    }
    CHECK(within > 3000);
    CHECK(bounds_of(mesh).min == bounds_of(box).min);
    CHECK(bounds_of(mesh).max == bounds_of(box).max);
}

TEST_CASE("lines through seams and corners of a mesh cross it consistently") {
    // Diagonals of the faces are seams, and so are the lines over the inner edges of a fan.
    const Solid box = box_as_mesh({0, 0, 0}, {1, 1, 1}).solid();
    for (int i = 1; i < 64; ++i) {
        const double on_seam = i / 64.0;
        for (const double y : {on_seam, 1.0 - on_seam}) {
            CHECK(box.contains({on_seam, y, 0.5}));
            CHECK_FALSE(box.contains({on_seam, y, -0.5}));
            CHECK_FALSE(box.contains({on_seam, y, 1.5}));
            CHECK(box.top_m(on_seam, y) == 1.0);
        }
    }
    const Solid dome = dome_as_mesh({Vec3(0, 0, 0), 1.0, 1.0}, 16, 4).solid();
    for (const Vec3& v : dome.vertices_m()) {
        const Vec3 within = 0.9 * v + Vec3(0, 0, 1e-3);
        CHECK(dome.contains(within));
        CHECK_FALSE(dome.contains({within.x(), within.y(), -1e-3}));
        CHECK_FALSE(dome.contains({within.x(), within.y(), 2.0}));
        // Exactly above a corner, where up to 16 triangles meet.
        CHECK_FALSE(dome.contains({v.x(), v.y(), -1e-3}));
        CHECK_FALSE(dome.contains({v.x(), v.y(), 2.0}));
    }
}

TEST_CASE("a dome as a mesh converges to the dome with smaller triangles") {
    const RockDome dome{Vec3(0.4, 0.3, 0.02), 0.15, 0.1};
    const Rock ideal{"dome", dome};
    const double volume = 2.0 / 3.0 * kPi * dome.radius_m * dome.radius_m * dome.height_m;
    double error_before = 1.0;
    for (const int rings : {8, 16, 32, 64}) {
        const Rock mesh{"mesh", dome_as_mesh(dome, 4 * rings, rings)};
        const Solid& solid = std::get<RockMesh>(mesh.shape).solid();
        const double error = 1.0 - volume_m3(solid) / volume;
        CHECK(error > 0.0);
        CHECK(error < 0.3 * error_before);  // of second order
        error_before = error;
        auto random = a_stream();
        int unlike = 0, within = 0;
        const int points = 20000;
        for (int i = 0; i < points; ++i) {
            const Vec3 p = place_in(bounds_of(ideal), random);
            unlike += inside(mesh, p) != inside(ideal, p);
            within += inside(mesh, p);
            const auto top = top_at(mesh, p.x(), p.y());
            if (top) REQUIRE(*top <= *top_at(ideal, p.x(), p.y()) + 1e-12);
        }
        // Monte Carlo estimate of the volume, within three standard errors.
        const double box_m3 = (bounds_of(ideal).max - bounds_of(ideal).min).prod();
        const double share = volume_m3(solid) / box_m3;
        CHECK(std::abs(static_cast<double>(within) / points - share) <
              3.0 * std::sqrt(share * (1.0 - share) / points));
        CHECK(static_cast<double>(unlike) / points < 1.5 * error * volume / box_m3 + 3e-4);
    }
    CHECK(error_before < 1e-3);
}

TEST_CASE("a cavity of a mesh is not rock, and its top is the uppermost surface") {
    const Solid outer = box_as_mesh({0, 0, 0}, {1, 1, 1}).solid();
    const Solid inner = box_as_mesh({0.25, 0.25, 0.25}, {0.75, 0.75, 0.75}).solid();
    std::vector<Vec3> vertices_m = outer.vertices_m();
    std::vector<std::array<int, 3>> triangles = outer.triangles();
    for (const Vec3& v : inner.vertices_m()) vertices_m.push_back(v);
    for (auto t : inner.triangles()) triangles.push_back({t[0] + 8, t[1] + 8, t[2] + 8});
    const Solid shell(vertices_m, triangles);
    CHECK(shell.contains({0.5, 0.5, 0.1}));
    CHECK_FALSE(shell.contains({0.5, 0.5, 0.5}));
    CHECK(shell.contains({0.5, 0.5, 0.9}));
    CHECK(shell.top_m(0.5, 0.5) == 1.0);
}

TEST_CASE("memory of the column index is linear in the number of triangles") {
    std::vector<Vec3> vertices_m;
    std::vector<std::array<int, 3>> triangles;
    for (int i = 0; i < 20000; ++i) {
        const double z = 1e-5 * i;
        for (const Vec3& v : {Vec3(0, 0, z), Vec3(1, 0, z), Vec3(0, 1, z)}) vertices_m.push_back(v);
        triangles.push_back({3 * i, 3 * i + 1, 3 * i + 2});
    }
    const Solid pile(vertices_m, triangles);
    CHECK(pile.fullest_column() == 20000);
    CHECK(pile.top_m(0.2, 0.2) == Approx(0.19999));
    CHECK(pile.contains({0.2, 0.2, 0.199985}));
    CHECK_FALSE(pile.contains({0.2, 0.2, 0.199975}));
}
