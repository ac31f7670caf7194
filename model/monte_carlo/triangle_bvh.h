// Bounding volume hierarchy over triangles in double precision, with a watertight edge test.
//
// A ray passes through a triangle when it passes on the same side of all three edges. The side of
// an edge (a, b), seen from the ray's origin, is the sign of d . (a x b), which for the neighbour's
// (b, a) is the same number with the other sign to the last bit: no ray passes between two
// triangles that share an edge, and none hits both. Nodes are split by the surface-area heuristic
// (MacDonald & Booth 1990, Vis. Comput. 6:153, from memory).
#pragma once

#include <cstdint>
#include <limits>
#include <vector>

#include "model/base/geometry.h"
#include "model/base/triangle_mesh.h"

namespace bedshade::monte_carlo {

/// A half-line; `direction` is a unit vector.
struct Ray {
    Vec3 from_m = Vec3::Zero();
    Vec3 direction = Vec3::UnitZ();
};

/// Hit of a ray on a triangle.
struct Hit {
    double distance_m = std::numeric_limits<double>::infinity();
    std::uint32_t triangle = 0;
    bool from_outside = false;  ///< the ray runs against the triangle's outward normal

    bool any() const { return distance_m < std::numeric_limits<double>::infinity(); }
};

class TriangleBvh {
  public:
    /// Adds the triangles of a closed surface that belong to `body`. Those without area are left
    /// out.
    void add(const TriangleMesh& mesh, int body);
    /// Builds the tree; to be called once, after the last `add` and before the first query.
    void build();

    bool empty() const { return triangles_.empty(); }
    const Box& bounds() const { return bounds_; }
    int body(std::uint32_t triangle) const { return triangles_[triangle].body; }
    /// Unit vector out of the surface.
    const Vec3& normal(std::uint32_t triangle) const { return triangles_[triangle].normal; }

    /// The first triangle on the ray nearer than `within_m`, from either side.
    Hit nearest(const Ray& ray, double within_m) const;
    /// Appends every hit on the ray, in no particular order.
    void all(const Ray& ray, std::vector<Hit>& out) const;

  private:
    struct Triangle {
        Vec3 a, b, c;
        Vec3 normal;
        int body = 0;
    };
    /// A leaf holds `count` triangles from `first`; an inner node has children `first` and `first`
    /// + 1.
    struct Node {
        Box box;
        std::uint32_t first = 0, count = 0;
    };
    struct Split;

    static Box box_of(const Triangle& triangle);
    Box box_of(std::uint32_t first, std::uint32_t count) const;
    Split best_split(const Node& node) const;
    void split_node(std::uint32_t index, int depth);
    Hit intersect(const Ray& ray, std::uint32_t triangle) const;
    template <class Visit>
    void traverse(const Ray& ray, const double& within_m, Visit visit) const;

    std::vector<Triangle> triangles_;
    std::vector<Node> nodes_;
    Box bounds_;
};

}  // namespace bedshade::monte_carlo
