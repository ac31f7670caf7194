#include "model/base/solid.h"

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <numeric>
#include <utility>

namespace bedshade {
namespace {

constexpr int kMaxColumns = 512;  // each way
/// Long thin triangles lie in many columns; with more entries than this per triangle, columns
/// become wider.
constexpr std::size_t kMaxEntriesPerTriangle = 16;

int column(double at_m, double min_m, double max_m, int count) {
    const double share = max_m > min_m ? (at_m - min_m) / (max_m - min_m) : 0.0;
    return std::clamp(static_cast<int>(share * count), 0, count - 1);
}

/// Whether a line from (x, y) along +x meets the edge between a and b, seen from above.
bool meets_edge(const Vec3& a, const Vec3& b, double x_m, double y_m) {
    if ((a.y() > y_m) == (b.y() > y_m)) return false;
    const Vec3& low = a.y() < b.y() ? a : b;
    const Vec3& high = a.y() < b.y() ? b : a;
    const double share = (y_m - low.y()) / (high.y() - low.y());
    return low.x() + share * (high.x() - low.x()) > x_m;
}

/// Height of the plane of a triangle above (x, y), clamped to the triangle's own heights, which a
/// nearly vertical plane would leave by rounding.
double height_m(const Vec3& a, const Vec3& b, const Vec3& c, double x_m, double y_m) {
    const double lowest_m = std::min({a.z(), b.z(), c.z()});
    const double highest_m = std::max({a.z(), b.z(), c.z()});
    const Vec3 normal = (b - a).cross(c - a);
    if (normal.z() == 0.0) return highest_m;
    const double rise_m = (normal.x() * (x_m - a.x()) + normal.y() * (y_m - a.y())) / normal.z();
    return std::clamp(a.z() - rise_m, lowest_m, highest_m);
}

}  // namespace

Solid::Solid(std::vector<Vec3> vertices_m, std::vector<std::array<int, 3>> triangles)
    : vertices_m_(std::move(vertices_m)), triangles_(std::move(triangles)) {
    for (const auto& triangle : triangles_)
        for (const int corner : triangle) bounds_.extend(vertex(corner));
    const double root = std::sqrt(static_cast<double>(triangles_.size()));
    side_ = std::clamp(static_cast<int>(root), 1, kMaxColumns);
    while (side_ > 1 && count_entries() > kMaxEntriesPerTriangle * triangles_.size()) side_ /= 2;
    bin_triangles();
}

Solid::Columns Solid::columns_of(const std::array<int, 3>& triangle) const {
    Box box;
    for (const int corner : triangle) box.extend(vertex(corner));
    return {column(box.min.x(), bounds_.min.x(), bounds_.max.x(), side_),
            column(box.max.x(), bounds_.min.x(), bounds_.max.x(), side_),
            column(box.min.y(), bounds_.min.y(), bounds_.max.y(), side_),
            column(box.max.y(), bounds_.min.y(), bounds_.max.y(), side_)};
}

std::size_t Solid::count_entries() const {
    std::size_t count = 0;
    for (const auto& triangle : triangles_) {
        const Columns at = columns_of(triangle);
        count += static_cast<std::size_t>(at.right - at.left + 1) *
                 static_cast<std::size_t>(at.back - at.front + 1);
    }
    return count;
}

void Solid::bin_triangles() {
    const auto each_column = [&](auto visit) {
        for (std::size_t t = 0; t < triangles_.size(); ++t) {
            const Columns at = columns_of(triangles_[t]);
            for (int j = at.front; j <= at.back; ++j)
                for (int i = at.left; i <= at.right; ++i)
                    visit(column_number(i, j), static_cast<int>(t));
        }
    };
    begin_.assign(static_cast<std::size_t>(side_ * side_) + 1, 0);
    each_column([&](std::size_t column, int /*triangle*/) { ++begin_[column + 1]; });
    std::partial_sum(begin_.begin(), begin_.end(), begin_.begin());
    binned_.resize(begin_.back());
    std::vector<std::size_t> next = begin_;
    each_column([&](std::size_t column, int triangle) { binned_[next[column]++] = triangle; });
}

std::size_t Solid::fullest_column() const {
    std::size_t most = 0;
    for (std::size_t c = 0; c + 1 < begin_.size(); ++c)
        most = std::max(most, begin_[c + 1] - begin_[c]);
    return most;
}

std::size_t Solid::column_number(int i, int j) const {
    return static_cast<std::size_t>(j) * static_cast<std::size_t>(side_) +
           static_cast<std::size_t>(i);
}

std::size_t Solid::column_at(double x_m, double y_m) const {
    return column_number(column(x_m, bounds_.min.x(), bounds_.max.x(), side_),
                         column(y_m, bounds_.min.y(), bounds_.max.y(), side_));
}

template <class Visit>
void Solid::for_each_crossing(double x_m, double y_m, Visit visit) const {
    if (x_m < bounds_.min.x() || x_m > bounds_.max.x() || y_m < bounds_.min.y() ||
        y_m > bounds_.max.y())
        return;
    const std::size_t at = column_at(x_m, y_m);
    for (std::size_t i = begin_[at]; i < begin_[at + 1]; ++i) {
        const auto& corner = triangles_[static_cast<std::size_t>(binned_[i])];
        const Vec3 &a = vertex(corner[0]), &b = vertex(corner[1]), &c = vertex(corner[2]);
        // The line meets two edges or none of a triangle that it misses, and one of a triangle that
        // it crosses.
        if (meets_edge(a, b, x_m, y_m) ^ meets_edge(b, c, x_m, y_m) ^ meets_edge(c, a, x_m, y_m))
            visit(height_m(a, b, c, x_m, y_m));
    }
}

bool Solid::contains(const Vec3& point_m) const {
    if (point_m.z() > bounds_.max.z()) return false;
    bool odd = false;
    for_each_crossing(point_m.x(), point_m.y(), [&](double z_m) { odd ^= z_m > point_m.z(); });
    return odd;
}

std::optional<double> Solid::top_m(double x_m, double y_m) const {
    std::optional<double> top;
    for_each_crossing(x_m, y_m, [&](double z_m) { top = std::max(z_m, top.value_or(z_m)); });
    return top;
}

}  // namespace bedshade
