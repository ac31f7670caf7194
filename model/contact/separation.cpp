#include "model/contact/separation.h"

#include <algorithm>
#include <cmath>
#include <limits>

namespace bedshade {
namespace {

/// Parts of a profile beyond this radius fraction are the rim.
constexpr double kRimShare = 0.7;
/// Segments tested on either side of the one that faces a point: 45 degrees.
constexpr int kFacingSegments = kSegments / 8;

double gap_m(const VerticalSpan& a, const VerticalSpan& b) {
    return std::max({a.low_m - b.high_m, b.low_m - a.high_m, 0.0});
}

double edge_distance_m(const Vec2& p, const Vec2& a, const Vec2& b) {
    const Vec2 ab = b - a;
    const double t = std::clamp((p - a).dot(ab) / ab.squaredNorm(), 0.0, 1.0);
    return (a + t * ab - p).norm();
}

double outline_distance_m(const ColonyBody& body, const Vec2& plan_m) {
    const int facing = ColonyBody::segment_at(plan_m);
    double least_m = std::numeric_limits<double>::infinity();
    for (int k = facing - kFacingSegments; k <= facing + kFacingSegments; ++k)
        least_m =
            std::min(least_m, edge_distance_m(plan_m, body.corner_m(k), body.corner_m(k + 1)));
    return least_m;
}

/// Vertical gap from the points of a crown to a body above them; infinite without one.
double clearance_below_m(const std::vector<Vec3>& crown_m, const ColonyBody& body) {
    double least_m = std::numeric_limits<double>::infinity();
    for (const Vec3& point : crown_m) {
        const Vec3 p = body.to_upright_m(point);
        const double s = body.relative_radius(p.head<2>());
        if (s <= 1.0)
            least_m = std::min(least_m, gap_m({p.z(), p.z()}, span_at(body.profile(), s)));
    }
    return least_m;
}

/// Whether the outlines may overlap in plan view.
bool may_overlap(const Rim& rim, const ColonyBody& body, const Rim& body_rim) {
    return !rim.crown_m[0].empty() && (rim.crown_m[0].back() - body.base_m()).head<2>().norm() <=
                                          rim.radius_m + body_rim.radius_m;
}

}  // namespace

VerticalSpan rim_span(const Profile& profile) {
    VerticalSpan span;
    for (int i = 0; i < profile.count; ++i)
        if (profile[i].s >= kRimShare) span.extend(profile[i].z_m);
    return span;
}

VerticalSpan span_at(const Profile& profile, double s) {
    VerticalSpan span;
    for (int i = 0; i + 1 < profile.count; ++i) {
        const ProfilePoint& a = profile[i];
        const ProfilePoint& b = profile[i + 1];
        if (s < std::min(a.s, b.s) || s > std::max(a.s, b.s)) continue;
        if (a.s == b.s) {
            span.extend(a.z_m);
            span.extend(b.z_m);
        } else {
            span.extend(between(a, b, (s - a.s) / (b.s - a.s)).z_m);
        }
    }
    return span;
}

Rim rim_of(const ColonyBody& body) {
    const Profile& profile = body.profile();
    const VerticalSpan span = rim_span(profile);
    Rim rim;
    rim.below_m = profile.rim_z_m - span.low_m;
    rim.above_m = span.high_m - profile.rim_z_m;
    for (int k = 0; k < kSegments; ++k) {
        const Vec3 corner = body.to_tank_m(body.upright_m(k, {1.0, profile.rim_z_m}));
        rim.corner_m[static_cast<std::size_t>(k)] = corner;
        const double reach_m = (corner - body.base_m()).norm() + std::max(rim.below_m, rim.above_m);
        rim.radius_m = std::max(rim.radius_m, reach_m);
        for (int i = profile.upper; i + (k == 0 ? 0 : 1) < profile.count; ++i)
            if (profile[i].s < kRimShare && profile[i].z_m > span.high_m)
                rim.crown_m[static_cast<std::size_t>(k)].push_back(
                    body.to_tank_m(body.upright_m(k, profile[i])));
    }
    return rim;
}

std::array<double, kSegments> distances_m(const Rim& rim, const ColonyBody& body,
                                          const Rim& body_rim, double limit_m) {
    const VerticalSpan body_span = rim_span(body.profile());
    std::array<double, kSegments> distance_m;
    distance_m.fill(std::numeric_limits<double>::infinity());
    if (may_overlap(rim, body, body_rim))
        for (std::size_t k = 0; k < kSegments; ++k)
            distance_m[k] = clearance_below_m(rim.crown_m[k], body);
    for (std::size_t k = 0; k < kSegments; ++k) {
        const double span_m = std::max(rim.below_m, rim.above_m);
        const double beyond_m =
            (rim.corner_m[k] - body.base_m()).norm() - body_rim.radius_m - span_m;
        if (beyond_m > limit_m) continue;
        const Vec3 p = body.to_upright_m(rim.corner_m[k]);
        const Vec2 plan = p.head<2>();
        const VerticalSpan here{p.z() - rim.below_m, p.z() + rim.above_m};
        const double s = body.relative_radius(plan);
        const double separation_m =
            s <= 1.0 ? gap_m(here, span_at(body.profile(), s))
                     : std::hypot(outline_distance_m(body, plan), gap_m(here, body_span));
        distance_m[k] = std::min(distance_m[k], separation_m);
    }
    return distance_m;
}

}  // namespace bedshade
