#include "model/base/mesh_edges.h"

#include <Eigen/Geometry>
#include <algorithm>
#include <cstddef>
#include <tuple>
#include <utility>

namespace bedshade {
namespace {

/// A side of a triangle, from the vertex with the lower index.
struct Side {
    int low, high;
    int triangle;
    bool upward;  ///< the triangle's direction is from low to high
};

bool same_edge(const Side& a, const Side& b) { return a.low == b.low && a.high == b.high; }

std::vector<Side> sorted_sides(const std::vector<std::array<int, 3>>& triangles) {
    std::vector<Side> sides;
    sides.reserve(3 * triangles.size());
    for (std::size_t t = 0; t < triangles.size(); ++t)
        for (std::size_t k = 0; k < 3; ++k) {
            const int from = triangles[t][k], to = triangles[t][(k + 1) % 3];
            sides.push_back(
                {std::min(from, to), std::max(from, to), static_cast<int>(t), from < to});
        }
    std::sort(sides.begin(), sides.end(), [](const Side& a, const Side& b) {
        return std::tie(a.low, a.high, a.triangle) < std::tie(b.low, b.high, b.triangle);
    });
    return sides;
}

/// Calls `visit(first, last)` for every edge with the sides that lie on it.
template <class Visit>
void each_edge(const std::vector<Side>& sides, Visit visit) {
    for (auto first = sides.begin(); first != sides.end();) {
        const auto last = std::find_if(first, sides.end(),
                                       [&](const Side& side) { return !same_edge(side, *first); });
        visit(first, last);
        first = last;
    }
}

/// The triangle across an edge, and whether the two have opposite orientation.
struct Neighbour {
    int triangle = -1;
    bool turned = false;
};
using Neighbours = std::vector<std::vector<Neighbour>>;

Neighbours neighbours_of(const std::vector<std::array<int, 3>>& triangles) {
    Neighbours across(triangles.size());
    each_edge(sorted_sides(triangles), [&](auto first, auto last) {
        if (last - first != 2) return;
        const Side &a = *first, &b = *(first + 1);
        const bool turned = a.upward == b.upward;
        across[static_cast<std::size_t>(a.triangle)].push_back({b.triangle, turned});
        across[static_cast<std::size_t>(b.triangle)].push_back({a.triangle, turned});
    });
    return across;
}

void flip(std::array<int, 3>& triangle) { std::swap(triangle[1], triangle[2]); }

/// The connected part of a triangle, flipped to its orientation. Clears the flags of these
/// triangles in `unvisited`.
std::vector<int> connected_part(int start, const Neighbours& across, std::vector<bool>& unvisited,
                                std::vector<std::array<int, 3>>& triangles) {
    std::vector<int> part{start};
    unvisited[static_cast<std::size_t>(start)] = false;
    std::vector<std::pair<int, bool>> open{{start, false}};
    while (!open.empty()) {
        const auto [triangle, is_turned] = open.back();
        open.pop_back();
        for (const Neighbour& next : across[static_cast<std::size_t>(triangle)]) {
            const auto index = static_cast<std::size_t>(next.triangle);
            if (!unvisited[index]) continue;
            unvisited[index] = false;
            const bool turns = is_turned != next.turned;
            if (turns) flip(triangles[index]);
            part.push_back(next.triangle);
            open.emplace_back(next.triangle, turns);
        }
    }
    return part;
}

}  // namespace

EdgeFaults edge_faults(const std::vector<std::array<int, 3>>& triangles) {
    EdgeFaults faults;
    each_edge(sorted_sides(triangles), [&](auto first, auto last) {
        const auto count = last - first;
        faults.open += count == 1;
        faults.crowded += count > 2;
        faults.turned += count == 2 && first->upward == (first + 1)->upward;
    });
    return faults;
}

void face_outward(const std::vector<Vec3>& vertices_m, std::vector<std::array<int, 3>>& triangles) {
    const Neighbours across = neighbours_of(triangles);
    std::vector<bool> unvisited(triangles.size(), true);
    const auto vertex = [&](int corner) { return vertices_m[static_cast<std::size_t>(corner)]; };
    for (std::size_t t = 0; t < triangles.size(); ++t) {
        if (!unvisited[t]) continue;
        const auto part = connected_part(static_cast<int>(t), across, unvisited, triangles);
        Box box;
        for (const int member : part)
            for (const int corner : triangles[static_cast<std::size_t>(member)])
                box.extend(vertex(corner));
        Vec3 base_m = 0.5 * (box.min + box.max);
        base_m.z() = box.min.z();
        double volume_m3 = 0.0;
        for (const int member : part) {
            const auto& [a, b, c] = triangles[static_cast<std::size_t>(member)];
            volume_m3 +=
                (vertex(a) - base_m).dot((vertex(b) - base_m).cross(vertex(c) - base_m)) / 6.0;
        }
        if (volume_m3 < 0.0)
            for (const int member : part) flip(triangles[static_cast<std::size_t>(member)]);
    }
}

}  // namespace bedshade
