#include "model/base/mesh_edges.h"

#include <catch2/catch.hpp>
#include <utility>

#include "tests/meshes.h"

using namespace bedshade;
using namespace bedshade::test;

namespace {

const std::vector<std::array<int, 3>>& box_triangles() {
    static const auto triangles = box_as_mesh({0, 0, 0}, {1, 1, 1}).solid().triangles();
    return triangles;
}

}  // namespace

TEST_CASE("edges of a closed box are all shared by two triangles of equal orientation") {
    const EdgeFaults faults = edge_faults(box_triangles());
    CHECK(faults.closed());
    CHECK(faults.turned == 0);
}

TEST_CASE("open, crowded and turned edges are counted") {
    auto triangles = box_triangles();
    triangles.pop_back();
    CHECK(edge_faults(triangles).open == 3);
    triangles = box_triangles();
    triangles.push_back({0, 1, 7});  // a wall across the box at one of its edges
    const EdgeFaults fin = edge_faults(triangles);
    CHECK(fin.crowded == 1);  // the edge of the wall
    CHECK(fin.open == 2);
    triangles = box_triangles();
    std::swap(triangles[4][1], triangles[4][2]);
    CHECK(edge_faults(triangles).turned == 3);
    CHECK(edge_faults(triangles).closed());
}

TEST_CASE("triangles are flipped to face outward from any orientation") {
    const auto corners_m = box_as_mesh({2, 3, 4}, {3, 4, 5}).solid().vertices_m();
    // All 4096 subsets of flipped triangles of the box.
    for (unsigned turned = 0; turned < 4096; ++turned) {
        auto triangles = box_triangles();
        for (std::size_t t = 0; t < triangles.size(); ++t)
            if (turned >> t & 1U) std::swap(triangles[t][1], triangles[t][2]);
        face_outward(corners_m, triangles);
        REQUIRE(edge_faults(triangles).turned == 0);
        REQUIRE(volume_m3(Solid(corners_m, triangles)) == Approx(1.0));
    }
}

TEST_CASE("each part of a mesh is oriented separately, and one open below faces up") {
    auto corners_m = box_as_mesh({0, 0, 0}, {1, 1, 1}).solid().vertices_m();
    auto triangles = box_triangles();
    const RockMesh second = box_as_mesh({2, 0, 0}, {3, 1, 1});
    for (const Vec3& v : second.solid().vertices_m()) corners_m.push_back(v);
    for (const auto& t : box_triangles())
        if (t != box_triangles()[0] && t != box_triangles()[1])  // not the floor
            triangles.push_back({t[0] + 8, t[2] + 8, t[1] + 8});
    face_outward(corners_m, triangles);
    CHECK(edge_faults(triangles).turned == 0);
    const auto height_of_cone = [&](const std::array<int, 3>& t) {
        const auto at = [&](int v) { return corners_m[static_cast<std::size_t>(v)]; };
        return at(t[0]).dot(at(t[1]).cross(at(t[2])));
    };
    // The lids, third and fourth triangle of either box, face up from the origin.
    CHECK(height_of_cone(triangles[2]) > 0.0);
    CHECK(height_of_cone(triangles[12]) > 0.0);
}
