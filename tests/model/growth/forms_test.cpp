#include "model/growth/forms.h"

#include <Eigen/Geometry>
#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <map>
#include <utility>

#include "model/base/random.h"
#include "model/growth/body.h"

using namespace bedshade;

namespace {

/// A colony of a form with random outline and tilt from a fixed stream; every fifth outline has
/// sectors of zero radius, every third is tilted.
ColonyShape random_shape(Form form, std::uint32_t trial) {
    RandomStream draw(7, trial, Process::stability, 0, static_cast<std::uint32_t>(form));
    ColonyShape shape;
    shape.form = form;
    shape.base_m = {draw.uniform(), draw.uniform(), 0.3 * draw.uniform()};
    shape.height_m = 0.002 + 0.12 * draw.uniform();
    for (double& r : shape.radius_m) r = 0.002 + 0.15 * draw.uniform() * draw.uniform();
    if (trial % 5 == 0)
        for (int s = 0; s < 6; ++s) shape.radius_m[static_cast<std::size_t>(4 * s)] = 0.0;
    if (trial % 3 == 0) {
        shape.facing_tilt_rad = 0.8 * draw.uniform();
        shape.facing_azimuth_rad = 2.0 * kPi * draw.uniform();
    }
    return shape;
}

ColonyShape round_shape(Form form, double radius_m, double height_m) {
    ColonyShape shape;
    shape.form = form;
    shape.radius_m.fill(radius_m);
    shape.height_m = height_m;
    return shape;
}

struct Corners {
    Vec3 a, b, c;
    Vec3 normal() const { return (b - a).cross(c - a); }
    Vec3 centre() const { return (a + b + c) / 3.0; }
};

Corners corners(const TriangleMesh& mesh, std::size_t i) {
    const auto at = [&](std::size_t j) {
        return Vec3(mesh.vertices_m[mesh.triangles[i][j]].cast<double>());
    };
    return {at(0), at(1), at(2)};
}

/// Number of triangles a ray crosses (Möller & Trumbore 1997).
int crossings(const TriangleMesh& mesh, const Vec3& origin, const Vec3& direction) {
    int count = 0;
    for (std::size_t i = 0; i < mesh.triangles.size(); ++i) {
        const Corners t = corners(mesh, i);
        const Vec3 p = direction.cross(t.c - t.a);
        const double det = p.dot(t.b - t.a);
        if (det == 0.0) continue;
        const double u = p.dot(origin - t.a) / det;
        const Vec3 q = (origin - t.a).cross(t.b - t.a);
        const double v = q.dot(direction) / det;
        if (u >= 0.0 && v >= 0.0 && u + v <= 1.0 && q.dot(t.c - t.a) / det > 0.0) ++count;
    }
    return count;
}

/// By the majority of three directions, so that a ray through an edge does not decide.
bool inside_by_rays(const TriangleMesh& mesh, const Vec3& point) {
    int odd = 0;
    for (const Vec3& d : {Vec3(0.31, 0.17, 0.94), Vec3(-0.83, 0.41, 0.37), Vec3(0.11, -0.71, -0.6)})
        odd += crossings(mesh, point, d) % 2;
    return odd >= 2;
}

double distance_to_triangle(const Corners& t, const Vec3& p) {
    const Vec3 n = t.normal().normalized();
    const Vec3 foot = p - n.dot(p - t.a) * n;
    const auto left_of = [&](const Vec3& a, const Vec3& b) {
        return (b - a).cross(foot - a).dot(n) >= 0.0;
    };
    if (left_of(t.a, t.b) && left_of(t.b, t.c) && left_of(t.c, t.a)) return (p - foot).norm();
    const auto to_edge = [&](const Vec3& a, const Vec3& b) {
        const double u = std::clamp((p - a).dot(b - a) / (b - a).squaredNorm(), 0.0, 1.0);
        return (a + u * (b - a) - p).norm();
    };
    return std::min({to_edge(t.a, t.b), to_edge(t.b, t.c), to_edge(t.c, t.a)});
}

double distance_to_mesh(const TriangleMesh& mesh, const Vec3& p) {
    double least = 1e9;
    for (std::size_t i = 0; i < mesh.triangles.size(); ++i)
        least = std::min(least, distance_to_triangle(corners(mesh, i), p));
    return least;
}

/// Area of the mesh's silhouette from above, from its outermost vertices by direction.
double plan_area_m2(const TriangleMesh& mesh, const Vec3& base_m) {
    std::map<long, Vec2> outermost;
    for (const auto& vertex : mesh.vertices_m) {
        const Vec2 p = vertex.head<2>().cast<double>() - base_m.head<2>();
        if (p.norm() < 1e-5) continue;
        Vec2& q =
            outermost.try_emplace(std::lround(std::atan2(p.y(), p.x()) * 1e2), p).first->second;
        if (p.norm() > q.norm()) q = p;
    }
    double twice = 0.0;
    for (auto it = outermost.begin(); it != outermost.end(); ++it) {
        const auto next = std::next(it) == outermost.end() ? outermost.begin() : std::next(it);
        twice += it->second.x() * next->second.y() - it->second.y() * next->second.x();
    }
    return 0.5 * twice;
}

Vec3 random_point_in(RandomStream& draw, const Box& box) {
    const Vec3 u(draw.uniform(), draw.uniform(), draw.uniform());
    return box.min + u.cwiseProduct(box.max - box.min);
}

}  // namespace

TEST_CASE("every colony mesh is closed and oriented outward", "[forms]") {
    for (const Form form : kForms) {
        for (std::uint32_t trial = 0; trial < 12; ++trial) {
            CAPTURE(to_string(form), trial);
            const ColonyShape shape = random_shape(form, trial);
            const TriangleMesh mesh = mesh_of(shape);
            CHECK(mesh.triangles.size() <= 800);
            std::map<std::pair<std::uint32_t, std::uint32_t>, int> edges;
            double six_volumes = 0.0;
            for (std::size_t i = 0; i < mesh.triangles.size(); ++i) {
                const auto& t = mesh.triangles[i];
                for (std::size_t j = 0; j < 3; ++j) ++edges[{t[j], t[(j + 1) % 3]}];
                const Corners c = corners(mesh, i);
                six_volumes +=
                    (c.a - shape.base_m).dot((c.b - shape.base_m).cross(c.c - shape.base_m));
            }
            // Each edge occurs once in each direction: closed and consistently oriented.
            bool closed = true;
            for (const auto& [edge, times] : edges)
                closed = closed && times == 1 && edges.count({edge.second, edge.first}) == 1;
            CHECK(closed);
            CHECK(six_volumes > 0.0);
        }
    }
}

TEST_CASE("triangles face away from the inside", "[forms]") {
    for (const Form form : kForms) {
        CAPTURE(to_string(form));
        const ColonyShape shape = round_shape(form, 0.08, 0.05);
        const TriangleMesh mesh = mesh_of(shape);
        int wrong = 0;
        for (std::size_t i = 0; i < mesh.triangles.size(); ++i) {
            const Corners c = corners(mesh, i);
            const Vec3 step = 2e-5 * c.normal().normalized();
            wrong += inside(shape, c.centre() + step) || !inside(shape, c.centre() - step);
        }
        CHECK(wrong == 0);
    }
}

TEST_CASE("the silhouette from above has the outline's planar area", "[forms]") {
    for (const Form form : kForms) {
        for (std::uint32_t trial = 0; trial < 12; ++trial) {
            CAPTURE(to_string(form), trial);
            ColonyShape shape = random_shape(form, trial);
            shape.facing_tilt_rad = 0.0;
            for (double& r : shape.radius_m) r = std::max(r, 0.002);
            const double drawn = plan_area_m2(mesh_of(shape), shape.base_m);
            CHECK(drawn == Approx(planar_area_m2(shape.radius_m)).epsilon(1e-3));
        }
    }
    const double disc = plan_area_m2(mesh_of(round_shape(Form::laminar, 0.1, 0.03)), Vec3::Zero());
    CHECK(disc == Approx(kPi * 0.01).epsilon(1e-4));
}

TEST_CASE("inside() and the mesh describe the same solid", "[forms]") {
    for (const Form form : kForms) {
        int within = 0;
        for (std::uint32_t trial = 0; trial < 6; ++trial) {
            CAPTURE(to_string(form), trial);
            const ColonyShape shape = random_shape(form, trial);
            const TriangleMesh mesh = mesh_of(shape);
            const Box box = bounds_of(shape);
            RandomStream draw(11, trial, Process::stability, 1, static_cast<std::uint32_t>(form));
            int differ = 0;
            for (int i = 0; i < 200; ++i) {
                const Vec3 p = random_point_in(draw, box);
                if (distance_to_mesh(mesh, p) < 2e-6) continue;
                within += inside(shape, p);
                differ += inside(shape, p) != inside_by_rays(mesh, p);
            }
            CHECK(differ == 0);
        }
        CHECK(within > 10);
    }
}

TEST_CASE("the margin of inside() is a distance", "[forms]") {
    for (const Form form : kForms) {
        for (std::uint32_t trial = 0; trial < 4; ++trial) {
            CAPTURE(to_string(form), trial);
            const ColonyShape shape = random_shape(form, trial);
            const TriangleMesh mesh = mesh_of(shape);
            Box box = bounds_of(shape);
            box.min.array() -= 0.01;
            box.max.array() += 0.01;
            RandomStream draw(13, trial, Process::stability, 2, static_cast<std::uint32_t>(form));
            constexpr double kMargin_m = 0.004;
            int too_far = 0, missed = 0;
            for (int i = 0; i < 200; ++i) {
                const Vec3 p = random_point_in(draw, box);
                if (inside(shape, p)) continue;
                const double distance = distance_to_mesh(mesh, p);
                const bool near = inside(shape, p, kMargin_m);
                too_far += near && distance > kMargin_m + 1e-6;
                missed += !near && distance < kMargin_m - 1e-6;
            }
            CHECK(too_far == 0);
            CHECK(missed == 0);
        }
    }
}

TEST_CASE("live patches are outside their own colony and face up or outward", "[forms]") {
    for (const Form form : kForms) {
        for (std::uint32_t trial = 0; trial < 12; ++trial) {
            CAPTURE(to_string(form), trial);
            const ColonyShape shape = random_shape(form, trial);
            const TriangleMesh mesh = mesh_of(shape);
            int buried = 0, far = 0, wrong = 0, sector = 0;
            for (const LivePatch& patch : live_patches(shape)) {
                buried += inside(shape, patch.position_m) || inside_by_rays(mesh, patch.position_m);
                far += distance_to_mesh(mesh, patch.position_m) > 0.0006;
                const Vec3 upright = lean_of(shape).transpose() * patch.normal;
                wrong += std::abs(patch.normal.norm() - 1.0) > 1e-12 || upright.z() < -1e-12 ||
                         !(patch.area_m2 > 0.0) || patch.sector != sector++ % kSectors;
            }
            CHECK(buried == 0);
            // Only in notches of millimetres between much longer sectors is a patch lifted farther.
            CHECK(far <= (trial % 5 == 0 ? 14 : 2));
            CHECK(wrong == 0);
        }
    }
}

TEST_CASE("patch areas add up to the upper surface", "[forms]") {
    // A flat table's top is its silhouette.
    const ColonyShape table = round_shape(Form::tabular, 0.15, 0.10);
    double top_m2 = 0.0, inner_m2 = 0.0;
    for (const LivePatch& patch : live_patches(table)) {
        top_m2 += patch.area_m2;
        const double r = patch.position_m.head<2>().norm();
        if (r < 0.10) inner_m2 += patch.area_m2;
        CHECK(patch.normal.z() == Approx(1.0).margin(1e-12));
        CHECK(patch.position_m.z() == Approx(0.1005).margin(1e-9));
    }
    CHECK(top_m2 == Approx(kPi * 0.15 * 0.15).epsilon(1e-3));
    CHECK(inner_m2 / top_m2 == Approx(4.0 / 9.0).epsilon(1e-6));
    // A dome's upper side is larger than its silhouette but less than its box's sides and top.
    double dome_m2 = 0.0;
    for (const LivePatch& patch : live_patches(round_shape(Form::massive, 0.1, 0.1)))
        dome_m2 += patch.area_m2;
    CHECK(dome_m2 > kPi * 0.01);
    CHECK(dome_m2 < 3.0 * kPi * 0.01);
}

TEST_CASE("forms start at their base, reach their height and stay inside their bounds", "[forms]") {
    for (const Form form : kForms) {
        CAPTURE(to_string(form));
        ColonyShape shape = round_shape(form, 0.1, 0.06);
        shape.base_m = {0.4, 0.3, 0.2};
        const Box box = bounds_of(shape);
        CHECK(box.min.z() == Approx(0.2 + kBaseLift_m).margin(1e-12));
        CHECK(box.max.z() == Approx(0.26).margin(1e-12));
        for (const auto& vertex : mesh_of(shape).vertices_m) {
            CHECK(vertex.z() >= 0.2f);
            Box grown = box;
            grown.min.array() -= 1e-6;
            grown.max.array() += 1e-6;
            CHECK(grown.contains(vertex.cast<double>()));
        }
        // The skeleton is at least 3 mm thick everywhere.
        const ColonyShape low = round_shape(form, 0.1, 0.0);
        CHECK(bounds_of(low).max.z() >= kLeastThickness_m);
    }
}

TEST_CASE("a plate's rim is its highest part and a bowl is deeper than a plate", "[forms]") {
    for (const Form form : {Form::laminar, Form::bowl}) {
        const ColonyShape shape = round_shape(form, 0.1, 0.06);
        const Vec3 rim = rim_point_m(shape, 3, 0.1);
        CHECK(rim.z() > 0.055);
        CHECK(rim.head<2>().norm() == Approx(0.1));
        CHECK(inside(shape, Vec3(0.999 * rim.x(), 0.999 * rim.y(), rim.z())));
        CHECK_FALSE(inside(shape, Vec3(1.01 * rim.x(), 1.01 * rim.y(), rim.z())));
    }
    const Vec3 hollow(0.0, 0.0, 0.02);
    CHECK(inside(round_shape(Form::laminar, 0.1, 0.06), hollow));
    CHECK_FALSE(inside(round_shape(Form::bowl, 0.1, 0.06), hollow));
}

TEST_CASE("a tilted colony leans toward its azimuth without rotation about its axis", "[forms]") {
    ColonyShape shape = round_shape(Form::laminar, 0.1, 0.06);
    shape.facing_tilt_rad = 30.0 * kPi / 180.0;
    shape.facing_azimuth_rad = sector_angle_rad(6);
    const Vec3 top = lean_of(shape) * Vec3::UnitZ();
    CHECK(top.x() == Approx(0.0).margin(1e-12));
    CHECK(top.y() == Approx(0.5));
    // The side toward the azimuth is lowered, the sectors across keep their direction.
    CHECK(rim_point_m(shape, 6, 0.1).z() < rim_point_m(shape, 18, 0.1).z());
    CHECK(rim_point_m(shape, 0, 0.1).x() == Approx(0.1));
}
