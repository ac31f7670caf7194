#include "model/growth/rock_probe.h"

#include <algorithm>
#include <cmath>

namespace bedshade {
namespace {

/// A mesh is filed by this many columns each way, seen from above.
constexpr int kColumns = 48;

struct BoundsOf {
    Box operator()(const RockBox& box) const { return {box.min_m, box.max_m}; }
    Box operator()(const RockSlab& slab) const {
        const Vec3 reach = Vec3::Constant(0.5 * slab.size_m.norm());
        return {slab.centre_m - reach, slab.centre_m + reach};
    }
    Box operator()(const RockDome& dome) const {
        const Vec3 flat(dome.radius_m, dome.radius_m, 0.0);
        return {dome.centre_m - flat, dome.centre_m + flat + Vec3(0.0, 0.0, dome.height_m)};
    }
    Box operator()(const RockMesh& mesh) const {
        Box box;
        for (const Vec3& v : mesh.vertices_m) box.extend(v);
        return box;
    }
};

int column(double x_m, double min_m, double max_m) {
    const double share = max_m > min_m ? (x_m - min_m) / (max_m - min_m) : 0.0;
    return std::clamp(static_cast<int>(share * kColumns), 0, kColumns - 1);
}

std::size_t cell_number(int i, int j) { return static_cast<std::size_t>(j * kColumns + i); }

double cross(const Vec2& a, const Vec2& b) { return a.x() * b.y() - a.y() * b.x(); }

}  // namespace

RockProbe::RockProbe(const Rock& rock) : rock_(rock), bounds_(std::visit(BoundsOf{}, rock.shape)) {
    mesh_ = std::get_if<RockMesh>(&rock.shape);
    if (mesh_ != nullptr) index_mesh(*mesh_);
}

void RockProbe::index_mesh(const RockMesh& mesh) {
    cell_.resize(static_cast<std::size_t>(kColumns) * kColumns);
    for (std::size_t t = 0; t < mesh.triangles.size(); ++t) {
        Box box;
        for (const int v : mesh.triangles[t])
            box.extend(mesh.vertices_m[static_cast<std::size_t>(v)]);
        const int right = column(box.max.x(), bounds_.min.x(), bounds_.max.x());
        const int far = column(box.max.y(), bounds_.min.y(), bounds_.max.y());
        for (int j = column(box.min.y(), bounds_.min.y(), bounds_.max.y()); j <= far; ++j)
            for (int i = column(box.min.x(), bounds_.min.x(), bounds_.max.x()); i <= right; ++i)
                cell_[cell_number(i, j)].push_back(static_cast<int>(t));
    }
}

const std::vector<int>& RockProbe::triangles_at(double x_m, double y_m) const {
    return cell_[cell_number(column(x_m, bounds_.min.x(), bounds_.max.x()),
                             column(y_m, bounds_.min.y(), bounds_.max.y()))];
}

std::optional<double> RockProbe::crossing_m(int triangle, double x_m, double y_m) const {
    const auto& t = mesh_->triangles[static_cast<std::size_t>(triangle)];
    const Vec3& a = mesh_->vertices_m[static_cast<std::size_t>(t[0])];
    const Vec3& b = mesh_->vertices_m[static_cast<std::size_t>(t[1])];
    const Vec3& c = mesh_->vertices_m[static_cast<std::size_t>(t[2])];
    const Vec2 ab = (b - a).head<2>();
    const Vec2 ac = (c - a).head<2>();
    const double area = cross(ab, ac);
    if (area == 0.0) return std::nullopt;
    const Vec2 ap = Vec2(x_m, y_m) - a.head<2>();
    const double v = cross(ap, ac) / area;
    const double w = cross(ab, ap) / area;
    // Half-open, so that a line through a shared edge crosses one of the two triangles.
    if (v < 0.0 || w < 0.0 || v + w >= 1.0) return std::nullopt;
    return a.z() + v * (b.z() - a.z()) + w * (c.z() - a.z());
}

bool RockProbe::inside(const Vec3& point_m) const {
    if (!bounds_.contains(point_m)) return false;
    if (mesh_ == nullptr) return bedshade::inside(rock_, point_m);
    bool odd = false;
    for (const int t : triangles_at(point_m.x(), point_m.y())) {
        const auto z_m = crossing_m(t, point_m.x(), point_m.y());
        if (z_m && *z_m > point_m.z()) odd = !odd;
    }
    return odd;
}

std::optional<double> RockProbe::top_at(double x_m, double y_m) const {
    if (x_m < bounds_.min.x() || x_m > bounds_.max.x() || y_m < bounds_.min.y() ||
        y_m > bounds_.max.y())
        return std::nullopt;
    if (mesh_ == nullptr) return bedshade::top_at(rock_, x_m, y_m);
    std::optional<double> top_m;
    for (const int t : triangles_at(x_m, y_m)) {
        const auto z_m = crossing_m(t, x_m, y_m);
        if (z_m && (!top_m || *z_m > *top_m)) top_m = z_m;
    }
    return top_m;
}

}  // namespace bedshade
