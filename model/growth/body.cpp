#include "model/growth/body.h"

#include <Eigen/Geometry>
#include <algorithm>
#include <cassert>
#include <cmath>

namespace bedshade {
namespace {

double cross(const Vec2& a, const Vec2& b) { return a.x() * b.y() - a.y() * b.x(); }

std::array<Vec2, kSegments> make_directions() {
    std::array<Vec2, kSegments> direction;
    for (int k = 0; k < kSegments; ++k) {
        const double angle = 2.0 * kPi * k / kSegments;
        direction[static_cast<std::size_t>(k)] = {std::cos(angle), std::sin(angle)};
    }
    return direction;
}

const std::array<Vec2, kSegments>& directions() {
    static const std::array<Vec2, kSegments> kDirections = make_directions();
    return kDirections;
}

/// Radius half-way between sectors `s` and `s + 1`: the Catmull-Rom midpoint of the logarithms,
/// limited to the range of the two. Logarithms keep it positive, and keep an outline along glass
/// within 1 % of the straight line; radii or their squares would bulge through the glass.
double middle_m(const RadialProfile& log_radius, std::size_t s) {
    const double before = log_radius[(s + kSectors - 1) % kSectors];
    const double here = log_radius[s];
    const double next = log_radius[(s + 1) % kSectors];
    const double after = log_radius[(s + 2) % kSectors];
    const double middle = (9.0 * (here + next) - before - after) / 16.0;
    return std::exp(std::clamp(middle, std::min(here, next), std::max(here, next)));
}

std::array<Vec2, kSegments> corners_m(const RadialProfile& radius_m) {
    RadialProfile drawn_m, log_radius;
    for (std::size_t s = 0; s < kSectors; ++s) {
        drawn_m[s] = std::max(radius_m[s], kLeastRadius_m);
        log_radius[s] = std::log(drawn_m[s]);
    }
    std::array<Vec2, kSegments> corner;
    for (std::size_t s = 0; s < kSectors; ++s) {
        corner[2 * s] = drawn_m[s] * directions()[2 * s];
        corner[2 * s + 1] = middle_m(log_radius, s) * directions()[2 * s + 1];
    }
    double polygon_m2 = 0.0;
    for (std::size_t k = 0; k < kSegments; ++k)
        polygon_m2 += 0.5 * cross(corner[k], corner[(k + 1) % kSegments]);
    const double scale = std::sqrt(planar_area_m2(drawn_m) / polygon_m2);
    for (Vec2& p : corner) p *= scale;
    return corner;
}

/// Even-odd crossings of a profile with a vertical line from below; the axis needs no edge, since s
/// is never negative.
bool within_profile(const Profile& profile, double s, double z_m) {
    bool within = false;
    for (int i = 0; i + 1 < profile.count; ++i) {
        const ProfilePoint& a = profile[i];
        const ProfilePoint& b = profile[i + 1];
        if ((a.s > s) == (b.s > s)) continue;
        if (z_m > between(a, b, (s - a.s) / (b.s - a.s)).z_m) within = !within;
    }
    return within;
}

double squared_distance_to_edge(const Vec3& p, const Vec3& a, const Vec3& b) {
    const Vec3 ab = b - a;
    const double length2 = ab.squaredNorm();
    const double t = length2 > 0.0 ? std::clamp((p - a).dot(ab) / length2, 0.0, 1.0) : 0.0;
    return (a + t * ab - p).squaredNorm();
}

/// Squared distance of a point from a plane trapezoid with these corners in order, of which two
/// neighbours may coincide.
double squared_distance_to_strip(const Vec3& p, const std::array<Vec3, 4>& corner) {
    const Vec3 normal = (corner[2] - corner[0]).cross(corner[3] - corner[1]);
    bool over = true;
    double least = 1e300;
    for (std::size_t i = 0; i < 4; ++i) {
        const Vec3& a = corner[i];
        const Vec3& b = corner[(i + 1) % 4];
        over = over && (b - a).cross(p - a).dot(normal) >= 0.0;
        least = std::min(least, squared_distance_to_edge(p, a, b));
    }
    if (!over) return least;
    const double off = normal.dot(p - corner[0]);
    return off * off / normal.squaredNorm();
}

}  // namespace

Eigen::Matrix3d lean_of(const ColonyShape& shape) {
    if (shape.facing_tilt_rad == 0.0) return Eigen::Matrix3d::Identity();
    const Vec3 axis(-std::sin(shape.facing_azimuth_rad), std::cos(shape.facing_azimuth_rad), 0.0);
    return Eigen::AngleAxisd(shape.facing_tilt_rad, axis).toRotationMatrix();
}

ColonyBody::ColonyBody(const ColonyShape& shape)
    : profile_(profile_of(shape.form, shape.height_m)),
      corner_m_(corners_m(shape.radius_m)),
      base_m_(shape.base_m),
      lean_(lean_of(shape)) {
    for (int k = 0; k < kSegments; ++k) {
        const Vec2 edge = corner_m(k + 1) - corner_m(k);
        Segment& segment = segment_[static_cast<std::size_t>(k)];
        segment.edge_m = edge.norm();
        segment.outward = Vec2(edge.y(), -edge.x()) / segment.edge_m;
        segment.off_axis_m = segment.outward.dot(corner_m(k));
        for (int i = 0; i < profile_.count; ++i)
            bounds_.extend(to_tank_m(upright_m(k, profile_[i])));
    }
}

int ColonyBody::segment_at(const Vec2& plan) {
    const double turn = std::atan2(plan.y(), plan.x()) / (2.0 * kPi);
    return static_cast<int>(std::floor((turn + 1.0) * kSegments)) % kSegments;
}

double ColonyBody::relative_radius(const Vec2& plan_m) const {
    const Segment& part = segment(segment_at(plan_m));
    return std::max(part.outward.dot(plan_m) / part.off_axis_m, 0.0);
}

double ColonyBody::strip_area_m2(int k, const ProfilePoint& a, const ProfilePoint& b) const {
    const Segment& part = segment(k);
    const double slant_m = std::hypot(part.off_axis_m * (b.s - a.s), b.z_m - a.z_m);
    return 0.5 * (a.s + b.s) * part.edge_m * slant_m;
}

Vec3 ColonyBody::strip_normal(int k, const ProfilePoint& a, const ProfilePoint& b) const {
    const Segment& part = segment(k);
    const Vec2 out = (b.z_m - a.z_m) * part.outward;
    return Vec3(out.x(), out.y(), part.off_axis_m * (a.s - b.s)).normalized();
}

bool ColonyBody::upright_inside(const Vec3& p) const {
    const double s = relative_radius(p.head<2>());
    return s <= 1.0 && within_profile(profile_, s, p.z());
}

bool ColonyBody::near_segment(int k, const Vec3& p, double margin_m) const {
    for (int i = 0; i + 1 < profile_.count; ++i) {
        const ProfilePoint& a = profile_[i];
        const ProfilePoint& b = profile_[i + 1];
        if (p.z() < std::min(a.z_m, b.z_m) - margin_m || p.z() > std::max(a.z_m, b.z_m) + margin_m)
            continue;
        const std::array<Vec3, 4> corner = {upright_m(k, a), upright_m(k + 1, a),
                                            upright_m(k + 1, b), upright_m(k, b)};
        if (squared_distance_to_strip(p, corner) <= margin_m * margin_m) return true;
    }
    return false;
}

bool ColonyBody::near_surface(const Vec3& p, double margin_m) const {
    const Vec2 plan = p.head<2>();
    const double r = plan.norm();
    const int k = segment_at(plan);
    // Only segments that a sphere about the point can reach can be near.
    constexpr double kWidth_rad = 2.0 * kPi / kSegments;
    const double span_rad = r > margin_m ? std::asin(margin_m / r) : kPi;
    const int reach = std::min(static_cast<int>(span_rad / kWidth_rad) + 1, kSegments / 2);
    for (int i = k - reach; i <= k + reach; ++i)
        if (near_segment(i, p, margin_m)) return true;
    return false;
}

bool ColonyBody::inside(const Vec3& point_m, double margin_m) const {
    assert(margin_m >= 0.0);
    const Vec3 m = Vec3::Constant(margin_m);
    if (((point_m - bounds_.min + m).array() < 0.0).any() ||
        ((bounds_.max - point_m + m).array() < 0.0).any())
        return false;
    const Vec3 p = to_upright_m(point_m);
    return upright_inside(p) || (margin_m > 0.0 && near_surface(p, margin_m));
}

}  // namespace bedshade
