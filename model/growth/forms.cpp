#include "model/growth/forms.h"

#include <algorithm>
#include <cmath>

#include "model/growth/body.h"
#include "model/growth/profiles.h"

namespace bedshade {
namespace {

constexpr double kPatchClearance_m =
    0.0005;  // distance of live patches from the mesh, for their rays
/// Boundary of the patch rings relative to the radius: 4/9 of a flat colony's area inside, 5/9
/// outside.
constexpr double kRingSplit = 2.0 / 3.0;

std::uint32_t index_of(int ring, int k) {
    return static_cast<std::uint32_t>(1 + ring * kSegments + (k + kSegments) % kSegments);
}

void add_vertices(const ColonyBody& body, TriangleMesh& mesh) {
    const Profile& profile = body.profile();
    const auto add = [&](int k, const ProfilePoint& at) {
        mesh.vertices_m.push_back(body.to_tank_m(body.upright_m(k, at)).cast<float>());
    };
    add(0, profile[0]);
    for (int ring = 0; ring < profile.count - 2; ++ring)
        for (int k = 0; k < kSegments; ++k) add(k, profile[ring + 1]);
    add(0, profile.last());
}

void add_triangles(int rings, TriangleMesh& mesh) {
    const std::uint32_t bottom = 0;
    const std::uint32_t top = index_of(rings, 0);
    for (int k = 0; k < kSegments; ++k) {
        mesh.triangles.push_back({bottom, index_of(0, k + 1), index_of(0, k)});
        for (int ring = 0; ring + 1 < rings; ++ring) {
            const std::uint32_t a = index_of(ring, k), b = index_of(ring, k + 1);
            const std::uint32_t c = index_of(ring + 1, k + 1), d = index_of(ring + 1, k);
            mesh.triangles.push_back({a, b, c});
            mesh.triangles.push_back({a, c, d});
        }
        mesh.triangles.push_back({top, index_of(rings - 1, k), index_of(rings - 1, k + 1)});
    }
}

/// A segment of the upper profile.
struct ProfileSegment {
    ProfilePoint a, b;
};

/// The upper side divided at the ring boundary: segments of the outer ring first, then the inner.
struct UpperSide {
    std::array<ProfileSegment, Profile::kMaxPoints> segments;
    int outer = 0, count = 0;
};

UpperSide upper_side(const Profile& profile) {
    UpperSide upper;
    const auto add = [&](const ProfilePoint& a, const ProfilePoint& b) {
        upper.segments[static_cast<std::size_t>(upper.count++)] = {a, b};
        if (b.s >= kRingSplit) upper.outer = upper.count;
    };
    for (int i = profile.upper; i + 1 < profile.count; ++i) {
        const ProfilePoint& a = profile[i];
        const ProfilePoint& b = profile[i + 1];
        if (a.s > kRingSplit && b.s < kRingSplit) {
            ProfilePoint cut = between(a, b, (a.s - kRingSplit) / (a.s - b.s));
            cut.s = kRingSplit;
            add(a, cut);
            add(cut, b);
        } else {
            add(a, b);
        }
    }
    return upper;
}

/// Position along a strip (0 to 1) at which `part` of its area is passed; its width changes from
/// `a.s` to `b.s`.
double share_along(const ProfileSegment& strip, double part) {
    const double a2 = strip.a.s * strip.a.s, b2 = strip.b.s * strip.b.s;
    if (std::abs(strip.a.s - strip.b.s) < 1e-9) return part;
    const double s = std::sqrt(a2 + part * (b2 - a2));
    return (s - strip.a.s) / (strip.b.s - strip.a.s);
}

/// Position of a patch of some segments in one sector: the point that halves its area.
struct PatchPoint {
    ProfilePoint at;
    ProfileSegment on;
    double area_m2 = 0.0;
};

PatchPoint patch_point(const ColonyBody& body, int sector, const ProfileSegment* begin,
                       const ProfileSegment* end) {
    const auto area_m2 = [&](const ProfileSegment& strip) {
        return body.strip_area_m2(2 * sector - 1, strip.a, strip.b) +
               body.strip_area_m2(2 * sector, strip.a, strip.b);
    };
    PatchPoint point;
    for (const ProfileSegment* strip = begin; strip != end; ++strip)
        point.area_m2 += area_m2(*strip);
    double left_m2 = 0.5 * point.area_m2;
    for (const ProfileSegment* strip = begin; strip != end; ++strip) {
        const double area = area_m2(*strip);
        point.on = *strip;
        if (left_m2 < area) break;
        left_m2 -= area;
    }
    const double part = std::clamp(left_m2 / area_m2(point.on), 0.0, 1.0);
    point.at = between(point.on.a, point.on.b, share_along(point.on, part));
    return point;
}

/// A point outside the body near a point of its surface: along the normal, or straight up in a
/// notch that is too narrow for that; the search ends above the body's top at the latest.
Vec3 point_outside(const ColonyBody& body, const Vec3& surface_m, const Vec3& normal) {
    Vec3 p = body.to_tank_m(surface_m + kPatchClearance_m * normal);
    for (double lift_m = kPatchClearance_m; body.inside(p); lift_m *= 2.0)
        p = body.to_tank_m(surface_m + lift_m * Vec3::UnitZ());
    return p;
}

LivePatch patch_of(const ColonyBody& body, int sector, const ProfileSegment* begin,
                   const ProfileSegment* end) {
    const PatchPoint point = patch_point(body, sector, begin, end);
    const Vec3 normal = (body.strip_normal(2 * sector - 1, point.on.a, point.on.b) +
                         body.strip_normal(2 * sector, point.on.a, point.on.b))
                            .normalized();
    LivePatch patch;
    patch.position_m = point_outside(body, body.upright_m(2 * sector, point.at), normal);
    patch.normal = body.direction_to_tank(normal);
    patch.area_m2 = point.area_m2;
    patch.sector = sector;
    return patch;
}

}  // namespace

ColonyShape shape_of(const Taxon& taxon, const Colony& colony, const ColonyState& state) {
    ColonyShape shape;
    shape.form = taxon.form;
    shape.base_m = state.position_m;
    shape.facing_azimuth_rad = colony.facing_azimuth_rad;
    shape.facing_tilt_rad = colony.facing_tilt_rad;
    shape.radius_m = state.radius_m;
    shape.height_m = state.height_m;
    return shape;
}

TriangleMesh mesh_of(const ColonyShape& shape) {
    const ColonyBody body(shape);
    const int rings = body.profile().count - 2;
    const std::size_t ring_corners = static_cast<std::size_t>(rings) * kSegments;
    TriangleMesh mesh;
    mesh.vertices_m.reserve(ring_corners + 2);
    mesh.triangles.reserve(2 * ring_corners);
    add_vertices(body, mesh);
    add_triangles(rings, mesh);
    return mesh;
}

std::array<LivePatch, kPatches> live_patches(const ColonyShape& shape) {
    const ColonyBody body(shape);
    const UpperSide upper = upper_side(body.profile());
    const ProfileSegment* begin = upper.segments.data();
    std::array<LivePatch, kPatches> patches;
    for (int s = 0; s < kSectors; ++s) {
        const auto at = static_cast<std::size_t>(s);
        patches[at] = patch_of(body, s, begin + upper.outer, begin + upper.count);
        patches[kSectors + at] = patch_of(body, s, begin, begin + upper.outer);
    }
    return patches;
}

bool inside(const ColonyShape& shape, const Vec3& point_m, double margin_m) {
    return ColonyBody(shape).inside(point_m, margin_m);
}

Vec3 rim_point_m(const ColonyShape& shape, int s, double radius_m) {
    const double angle = sector_angle_rad(s);
    const double z_m = profile_of(shape.form, shape.height_m).rim_z_m;
    const Vec3 upright(radius_m * std::cos(angle), radius_m * std::sin(angle), z_m);
    return shape.base_m + lean_of(shape) * upright;
}

Box bounds_of(const ColonyShape& shape) { return ColonyBody(shape).bounds(); }

}  // namespace bedshade
