// Solid body of a colony, precomputed from its shape for repeated queries.
//
// The outline is a star-shaped polygon of kSegments corners around the axis; the body is the
// profile swept along it, so every ring of the body is the same polygon shrunk toward the axis. A
// strip between two rings in one segment is then a plane trapezoid: mesh, area, normal and inside
// test all describe exactly the same solid, whatever the outline.
#pragma once

#include <Eigen/Core>
#include <array>

#include "model/base/geometry.h"
#include "model/growth/forms.h"
#include "model/growth/profiles.h"

namespace bedshade {

/// Corners of a body's outline; corner 2 s is at the middle of sector s.
inline constexpr int kSegments = 2 * kSectors;

class ColonyBody {
  public:
    explicit ColonyBody(const ColonyShape& shape);

    const Profile& profile() const { return profile_; }
    const Box& bounds() const { return bounds_; }
    /// Whether a point in tank coordinates lies inside or within `margin_m` >= 0 of the surface.
    bool inside(const Vec3& point_m, double margin_m = 0.0) const;

    /// Corner `k` of the outline (modulo kSegments), relative to the axis [m].
    const Vec2& corner_m(int k) const {
        return corner_m_[static_cast<std::size_t>((k + 2 * kSegments) % kSegments)];
    }
    /// Point of the surface above or below corner `k` at a point of the profile, in the colony's
    /// own upright frame.
    Vec3 upright_m(int k, const ProfilePoint& at) const {
        const Vec2 plan = at.s * corner_m(k);
        return {plan.x(), plan.y(), at.z_m};
    }
    /// From the colony's own frame to the tank's.
    Vec3 to_tank_m(const Vec3& upright_m) const { return base_m_ + lean_ * upright_m; }
    Vec3 to_upright_m(const Vec3& tank_m) const { return lean_.transpose() * (tank_m - base_m_); }
    const Vec3& base_m() const { return base_m_; }
    Vec3 direction_to_tank(const Vec3& upright) const { return lean_ * upright; }

    /// Segment of the outline in a direction from the axis.
    static int segment_at(const Vec2& plan);
    /// Distance of a point from the axis relative to the outline's radius in its direction: 1 on
    /// the outline.
    double relative_radius(const Vec2& plan_m) const;
    /// Area of the strip of segment `k` between two points of the profile [m2].
    double strip_area_m2(int k, const ProfilePoint& a, const ProfilePoint& b) const;
    /// Outward unit normal of that strip, in the colony's own frame; `a` comes before `b` along
    /// the profile.
    Vec3 strip_normal(int k, const ProfilePoint& a, const ProfilePoint& b) const;

  private:
    struct Segment {
        double edge_m = 0.0;          ///< length between its two corners
        double off_axis_m = 0.0;      ///< distance of the line through them from the axis
        Vec2 outward = Vec2::Zero();  ///< unit vector across that line
    };
    const Segment& segment(int k) const {
        return segment_[static_cast<std::size_t>((k + 2 * kSegments) % kSegments)];
    }
    bool upright_inside(const Vec3& p) const;
    bool near_segment(int k, const Vec3& p, double margin_m) const;
    bool near_surface(const Vec3& p, double margin_m) const;

    Profile profile_;
    std::array<Vec2, kSegments> corner_m_;
    std::array<Segment, kSegments> segment_;
    Vec3 base_m_;
    Eigen::Matrix3d lean_;
    Box bounds_;
};

/// Smallest radius of a body's outline; smaller sectors are enlarged to it.
inline constexpr double kLeastRadius_m = 0.001;

/// Rotation from the colony's frame to the tank's: tilts the axis toward the azimuth without
/// rotation about the axis, so that sectors keep their directions.
Eigen::Matrix3d lean_of(const ColonyShape& shape);

}  // namespace bedshade
