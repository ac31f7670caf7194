#include "model/reef/rock.h"

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <limits>

namespace bedshade {
namespace {

/// Rotation from slab coordinates (z along its thickness) to tank coordinates: tilts z toward the
/// azimuth.
Eigen::Matrix3d slab_frame(const RockSlab& slab) {
    const Eigen::AngleAxisd turn(slab.azimuth_rad, Vec3::UnitZ());
    const Eigen::AngleAxisd lean(slab.tilt_rad, Vec3::UnitY());
    return (turn * lean).toRotationMatrix();
}

Vec3 in_slab(const RockSlab& slab, const Vec3& point_m) {
    return slab_frame(slab).transpose() * (point_m - slab.centre_m);
}

struct Inside {
    Vec3 p;
    bool operator()(const RockBox& box) const { return Box{box.min_m, box.max_m}.contains(p); }
    bool operator()(const RockSlab& slab) const {
        return (in_slab(slab, p).cwiseAbs().array() <= 0.5 * slab.size_m.array()).all();
    }
    bool operator()(const RockDome& dome) const {
        const Vec3 q = p - dome.centre_m;
        const double s = std::hypot(q.x(), q.y()) / dome.radius_m;
        const double h = q.z() / dome.height_m;
        return h >= 0.0 && s * s + h * h <= 1.0;
    }
    bool operator()(const RockMesh& mesh) const { return mesh.solid().contains(p); }
};

/// Highest point of a vertical line through (x, y) inside a slab, by clipping against its faces.
std::optional<double> slab_top(const RockSlab& slab, double x_m, double y_m) {
    const Eigen::Matrix3d frame = slab_frame(slab);
    const Vec3 origin = frame.transpose() * (Vec3(x_m, y_m, 0.0) - slab.centre_m);
    const Vec3 up = frame.transpose() * Vec3::UnitZ();
    double low = -std::numeric_limits<double>::infinity();
    double high = std::numeric_limits<double>::infinity();
    for (int axis = 0; axis < 3; ++axis) {
        const double half = 0.5 * slab.size_m[axis];
        if (std::abs(up[axis]) < 1e-12) {
            if (std::abs(origin[axis]) > half) return std::nullopt;
            continue;
        }
        const double a = (-half - origin[axis]) / up[axis];
        const double b = (half - origin[axis]) / up[axis];
        low = std::max(low, std::min(a, b));
        high = std::min(high, std::max(a, b));
    }
    if (low > high) return std::nullopt;
    return high;
}

struct TopAt {
    double x, y;
    std::optional<double> operator()(const RockBox& box) const {
        const bool over =
            x >= box.min_m.x() && x <= box.max_m.x() && y >= box.min_m.y() && y <= box.max_m.y();
        return over ? std::optional(box.max_m.z()) : std::nullopt;
    }
    std::optional<double> operator()(const RockSlab& slab) const { return slab_top(slab, x, y); }
    std::optional<double> operator()(const RockDome& dome) const {
        const double s = std::hypot(x - dome.centre_m.x(), y - dome.centre_m.y()) / dome.radius_m;
        if (s > 1.0) return std::nullopt;
        return dome.centre_m.z() + dome.height_m * std::sqrt(1.0 - s * s);
    }
    std::optional<double> operator()(const RockMesh& mesh) const {
        return mesh.solid().top_m(x, y);
    }
};

struct BoundsOf {
    Box operator()(const RockBox& box) const { return {box.min_m, box.max_m}; }
    Box operator()(const RockSlab& slab) const {
        const Vec3 reach = Vec3::Constant(0.5 * slab.size_m.norm());
        return {slab.centre_m - reach, slab.centre_m + reach};
    }
    Box operator()(const RockDome& dome) const {
        const Vec3 reach(dome.radius_m, dome.radius_m, 0.0);
        return {dome.centre_m - reach, dome.centre_m + reach + Vec3(0.0, 0.0, dome.height_m)};
    }
    Box operator()(const RockMesh& mesh) const { return mesh.solid().bounds(); }
};

}  // namespace

bool inside(const Rock& rock, const Vec3& point_m) {
    return std::visit(Inside{point_m}, rock.shape);
}

std::optional<double> top_at(const Rock& rock, double x_m, double y_m) {
    return std::visit(TopAt{x_m, y_m}, rock.shape);
}

Box bounds_of(const Rock& rock) { return std::visit(BoundsOf{}, rock.shape); }

}  // namespace bedshade
