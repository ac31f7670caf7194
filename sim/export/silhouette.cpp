#include "sim/export/silhouette.h"

#include <algorithm>

namespace bedshade {
namespace {

constexpr int kSteps = 40;

struct Range {
    double low = 1e300, high = -1e300;

    void extend(double value) {
        low = std::min(low, value);
        high = std::max(high, value);
    }
    bool empty() const { return low > high; }
};

/// Extent of an edge where it crosses the line at `at`.
void cross(const Eigen::Vector3f& a, const Eigen::Vector3f& b, int across, int up, double at,
           Range& range) {
    const double from = a[across], to = b[across];
    if ((from < at && to < at) || (from > at && to > at)) return;
    if (from == to) {
        range.extend(a[up]);
        range.extend(b[up]);
        return;
    }
    const double part = (at - from) / (to - from);
    range.extend(a[up] + part * (b[up] - a[up]));
}

Range range_at(const TriangleMesh& mesh, int across, int up, double at) {
    Range range;
    for (const auto& t : mesh.triangles)
        for (std::size_t k = 0; k < 3; ++k)
            cross(mesh.vertices_m[t[k]], mesh.vertices_m[t[(k + 1) % 3]], across, up, at, range);
    return range;
}

}  // namespace

std::vector<Vec2> silhouette(const TriangleMesh& mesh, int across, int up) {
    Range whole;
    for (const auto& v : mesh.vertices_m) whole.extend(v[across]);
    std::vector<Vec2> high, low;
    for (int k = 0; k <= kSteps && !whole.empty(); ++k) {
        const double at = whole.low + (whole.high - whole.low) * k / kSteps;
        const Range range = range_at(mesh, across, up, at);
        if (range.empty()) continue;
        high.emplace_back(at, range.high);
        low.emplace_back(at, range.low);
    }
    high.insert(high.end(), low.rbegin(), low.rend());
    return high;
}

}  // namespace bedshade
