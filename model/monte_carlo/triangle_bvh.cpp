#include "model/monte_carlo/triangle_bvh.h"

#include <Eigen/Geometry>
#include <algorithm>
#include <array>
#include <cmath>

namespace bedshade::monte_carlo {
namespace {

constexpr std::uint32_t kLeafSize = 4;
constexpr int kBins = 16;
constexpr int kMaxDepth = 60;    // capacity of the stack of `traverse`
constexpr double kPad_m = 1e-9;  // margin of boxes, so that rounding cannot miss a flat one
constexpr double kNoHit_m = std::numeric_limits<double>::infinity();

double half_area(const Box& box) {
    const Vec3 side = (box.max - box.min).cwiseMax(0.0);
    return side.x() * side.y() + side.y() * side.z() + side.z() * side.x();
}

void include(Box& box, const Box& other) {
    box.min = box.min.cwiseMin(other.min);
    box.max = box.max.cwiseMax(other.max);
}

/// Reciprocal that stays finite, so that 0 times it is 0.
double reciprocal(double x) { return std::abs(x) < 1e-300 ? std::copysign(1e300, x) : 1.0 / x; }

/// Distance at which a ray enters a box; infinity when it does not before `within_m`.
double entry_m(const Box& box, const Vec3& from, const Vec3& per_direction, double within_m) {
    const Eigen::Array3d low = (box.min - from).array() * per_direction.array();
    const Eigen::Array3d high = (box.max - from).array() * per_direction.array();
    const double in = std::max(0.0, low.min(high).maxCoeff());
    const double out = std::min(within_m, low.max(high).minCoeff());
    return in <= out ? in : kNoHit_m;
}

/// The side of the edge (a, b) on which a ray from the origin passes; (b, a) gives the opposite
/// sign. Ties are broken as for a ray with an infinitesimal tilt.
double side_of(const Vec3& direction, const Vec3& a, const Vec3& b) {
    const Vec3 across = a.cross(b);
    const double side = direction.dot(across);
    return side != 0.0 ? side : Vec3(0.6, 0.3, 0.74).dot(across);
}

}  // namespace

/// Split of a node's triangles: by the bin of their centre along an axis.
struct TriangleBvh::Split {
    double work = std::numeric_limits<double>::infinity();  // expected cost: sum over both sides of
                                                            // area times count
    int axis = 0, bin = 0;
    double low_m = 0.0, bins_per_m = 0.0;

    int bin_of(const Box& box) const {
        const double middle = 0.5 * (box.min[axis] + box.max[axis]);
        return std::clamp(static_cast<int>((middle - low_m) * bins_per_m), 0, kBins - 1);
    }
};

Box TriangleBvh::box_of(const Triangle& triangle) {
    Box box;
    for (const Vec3* corner : {&triangle.a, &triangle.b, &triangle.c}) box.extend(*corner);
    box.min.array() -= kPad_m;
    box.max.array() += kPad_m;
    return box;
}

Box TriangleBvh::box_of(std::uint32_t first, std::uint32_t count) const {
    Box box;
    for (std::uint32_t t = first; t < first + count; ++t) include(box, box_of(triangles_[t]));
    return box;
}

void TriangleBvh::add(const TriangleMesh& mesh, int body) {
    for (const auto& corner : mesh.triangles) {
        Triangle triangle;
        triangle.a = mesh.vertices_m[corner[0]].cast<double>();
        triangle.b = mesh.vertices_m[corner[1]].cast<double>();
        triangle.c = mesh.vertices_m[corner[2]].cast<double>();
        const Vec3 across = (triangle.b - triangle.a).cross(triangle.c - triangle.a);
        if (!(across.norm() > 0.0)) continue;
        triangle.normal = across.normalized();
        triangle.body = body;
        triangles_.push_back(triangle);
    }
}

void TriangleBvh::build() {
    if (triangles_.empty()) return;
    const auto count = static_cast<std::uint32_t>(triangles_.size());
    nodes_.reserve(2 * triangles_.size());
    nodes_.push_back({box_of(0, count), 0, count});
    bounds_ = nodes_.front().box;
    split_node(0, 1);
}

TriangleBvh::Split TriangleBvh::best_split(const Node& node) const {
    Split best;
    for (int axis = 0; axis < 3; ++axis) {
        Split split;
        split.axis = axis;
        split.low_m = node.box.min[axis];
        split.bins_per_m = kBins / (node.box.max[axis] - node.box.min[axis]);
        std::array<Box, kBins> box;
        std::array<std::uint32_t, kBins> count{};
        for (std::uint32_t t = node.first; t < node.first + node.count; ++t) {
            const Box one = box_of(triangles_[t]);
            const auto bin = static_cast<std::size_t>(split.bin_of(one));
            include(box[bin], one);
            ++count[bin];
        }
        for (split.bin = 1; split.bin < kBins; ++split.bin) {
            Box below, above;
            std::uint32_t low = 0, high = 0;
            for (std::size_t b = 0; b < kBins; ++b) {
                const bool under = static_cast<int>(b) < split.bin;
                include(under ? below : above, box[b]);
                (under ? low : high) += count[b];
            }
            if (low == 0 || high == 0) continue;
            split.work = half_area(below) * low + half_area(above) * high;
            if (split.work < best.work) best = split;
        }
    }
    return best;
}

void TriangleBvh::split_node(std::uint32_t index, int depth) {
    const Node node = nodes_[index];
    if (node.count <= kLeafSize || depth >= kMaxDepth) return;
    const Split split = best_split(node);
    if (!(split.work < half_area(node.box) * node.count)) return;
    const auto begin = triangles_.begin() + node.first;
    const auto middle = std::partition(begin, begin + node.count, [&](const Triangle& t) {
        return split.bin_of(box_of(t)) < split.bin;
    });
    const auto below = static_cast<std::uint32_t>(middle - begin);
    const auto child = static_cast<std::uint32_t>(nodes_.size());
    nodes_.push_back({box_of(node.first, below), node.first, below});
    nodes_.push_back(
        {box_of(node.first + below, node.count - below), node.first + below, node.count - below});
    nodes_[index].first = child;
    nodes_[index].count = 0;
    split_node(child, depth + 1);
    split_node(child + 1, depth + 1);
}

Hit TriangleBvh::intersect(const Ray& ray, std::uint32_t index) const {
    const Triangle& triangle = triangles_[index];
    const Vec3 a = triangle.a - ray.from_m, b = triangle.b - ray.from_m,
               c = triangle.c - ray.from_m;
    const double ab = side_of(ray.direction, a, b);
    const double bc = side_of(ray.direction, b, c);
    const double ca = side_of(ray.direction, c, a);
    const bool through = (ab > 0.0) == (bc > 0.0) && (bc > 0.0) == (ca > 0.0);
    const double along = ray.direction.dot(triangle.normal);
    if (!through || along == 0.0) return {};
    const double distance_m = a.dot(triangle.normal) / along;
    if (!(distance_m > 0.0)) return {};
    return {distance_m, index, along < 0.0};
}

template <class Visit>
void TriangleBvh::traverse(const Ray& ray, const double& within_m, Visit visit) const {
    if (nodes_.empty()) return;
    const Vec3 per_direction = ray.direction.unaryExpr([](double x) { return reciprocal(x); });
    struct Waiting {
        std::uint32_t node;
        double entry_m;
    };
    std::array<Waiting, kMaxDepth + 1> stack;
    std::size_t size = 0;
    const auto entry = [&](std::uint32_t node) {
        return entry_m(nodes_[node].box, ray.from_m, per_direction, within_m);
    };
    const auto push = [&](std::uint32_t node, double at_m) {
        if (at_m < kNoHit_m) stack[size++] = {node, at_m};
    };
    push(0, entry(0));
    while (size > 0) {
        const Waiting next = stack[--size];
        if (next.entry_m > within_m) continue;
        const Node& node = nodes_[next.node];
        if (node.count > 0) {
            for (std::uint32_t t = node.first; t < node.first + node.count; ++t)
                visit(intersect(ray, t));
            continue;
        }
        const double first = entry(node.first), second = entry(node.first + 1);
        // The nearer child goes on top, so that it is visited next.
        const std::uint32_t nearer = first < second ? 0 : 1;
        push(node.first + 1 - nearer, std::max(first, second));
        push(node.first + nearer, std::min(first, second));
    }
}

Hit TriangleBvh::nearest(const Ray& ray, double within_m) const {
    Hit best;
    double limit_m = within_m;
    traverse(ray, limit_m, [&](const Hit& hit) {
        if (!(hit.distance_m < limit_m)) return;
        best = hit;
        limit_m = hit.distance_m;
    });
    return best;
}

void TriangleBvh::all(const Ray& ray, std::vector<Hit>& out) const {
    constexpr double kAnywhere_m = 1e9;
    traverse(ray, kAnywhere_m, [&](const Hit& hit) {
        if (hit.any()) out.push_back(hit);
    });
}

}  // namespace bedshade::monte_carlo
