// Rays against triangles in double precision: a tree of boxes over them, and an edge test that
// leaves no gaps.
//
// A ray passes through a triangle when it passes on the same side of all three edges. The side of
// an edge (a, b), seen from the ray's origin, is the sign of d . (a x b), which for the neighbour's
// (b, a) is the same number with the other sign to the last bit: no ray slips between two triangles
// that share an edge, and none meets both. The tree is split where the surface-area heuristic
// (MacDonald & Booth 1990, Vis. Comput. 6:153, from memory) expects the least work.
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

/// A triangle met by a ray.
struct Meeting {
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
    /// Builds the tree; to be done once, after the last `add` and before the first question.
    void build();

    bool empty() const { return triangles_.empty(); }
    const Box& bounds() const { return bounds_; }
    int body(std::uint32_t triangle) const { return triangles_[triangle].body; }
    /// Unit vector out of the surface.
    const Vec3& normal(std::uint32_t triangle) const { return triangles_[triangle].normal; }

    /// The first triangle on the ray nearer than `within_m`, from either side.
    Meeting nearest(const Ray& ray, double within_m) const;
    /// Appends every triangle on the ray, in no particular order.
    void all(const Ray& ray, std::vector<Meeting>& out) const;

  private:
    struct Triangle {
        Vec3 a, b, c;
        Vec3 normal;
        int body = 0;
    };
    /// A leaf holds `count` triangles from `first`; a fork has children `first` and `first` + 1.
    struct Node {
        Box box;
        std::uint32_t first = 0, count = 0;
    };
    struct Split;

    static Box box_of(const Triangle& triangle);
    Box box_of(std::uint32_t first, std::uint32_t count) const;
    Split best_split(const Node& node) const;
    void divide(std::uint32_t index, int depth);
    Meeting meet(const Ray& ray, std::uint32_t triangle) const;
    template <class Visit>
    void walk(const Ray& ray, const double& within_m, Visit visit) const;

    std::vector<Triangle> triangles_;
    std::vector<Node> nodes_;
    Box bounds_;
};

}  // namespace bedshade::monte_carlo
