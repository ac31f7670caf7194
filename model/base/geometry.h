// Points, directions, boxes, and the polar sectors of colony outlines.
//
// Frame: origin at the front left corner of the inner floor, x along the tank's length, y toward
// the back, z up from the sand surface. Lengths in metres, angles in radians.
#pragma once

#include <Eigen/Core>
#include <array>
#include <numbers>

namespace bedshade {

using Vec2 = Eigen::Vector2d;
using Vec3 = Eigen::Vector3d;

inline constexpr double kPi = std::numbers::pi;

/// Outlines are polar: one radius for each of these sectors, sector 0 centred on +x, counted
/// toward +y.
inline constexpr int kSectors = 24;
using RadialProfile = std::array<double, kSectors>;

/// Direction of sector `s`, in radians from +x toward +y.
inline double sector_angle_rad(int s) { return 2.0 * kPi * s / kSectors; }

/// An axis-aligned box; empty when any `min` exceeds `max`.
struct Box {
    Vec3 min = Vec3::Constant(1e300);
    Vec3 max = Vec3::Constant(-1e300);

    void extend(const Vec3& p) {
        min = min.cwiseMin(p);
        max = max.cwiseMax(p);
    }
    bool contains(const Vec3& p) const {
        return (p.array() >= min.array()).all() && (p.array() <= max.array()).all();
    }
};

}  // namespace bedshade
