// Everything solid that stands in the light: rock and colonies, as one ray-tracing scene.
//
// Queries are straight underwater segments. Hit or miss is decided by Embree in single precision,
// pinned to one instruction set so that it does not depend on the machine; lengths inside porous
// canopies are computed here in double precision from the triangles that were hit.
#pragma once

#include <memory>
#include <vector>

#include "model/base/triangle_mesh.h"
#include "model/reef/rock.h"

namespace bedshade {

/// A straight segment under water, from a receptor toward the light.
struct Segment {
    Eigen::Vector3f origin_m;
    Eigen::Vector3f direction;  ///< unit vector
    float length_m = 0.0F;
};

/// One colony in the way of a segment.
struct Intersection {
    int colony = -1;
    double transmittance = 0.0;  ///< what it lets through: 0 when opaque [1]
};

/// Where light that comes along a segment backwards has last met a solid.
struct Hit {
    bool by_rock = false;
    int index = -1;  ///< of the rock or the colony
    float distance_m = 0.0F;
    Eigen::Vector3f normal = Eigen::Vector3f::Zero();  ///< unit vector, outward; zero in a canopy
    bool from_inside = false;                          ///< the segment starts within the solid
};

class LightScene {
  public:
    /// A scene of this rock and room for `colonies` colonies, none placed.
    LightScene(const std::vector<Rock>& rocks, int colonies);
    ~LightScene();
    LightScene(const LightScene&) = delete;
    LightScene& operator=(const LightScene&) = delete;

    /// Puts a colony there, or changes its shape. `extinction_per_m` is the canopy's k = G a;
    /// infinity makes it opaque. Takes effect with `commit`.
    void place(int colony, const TriangleMesh& mesh, double extinction_per_m);
    void take_away(int colony);
    void commit();

    /// Whether anything at all, porous or not, meets the segment. Safe from many threads at once.
    bool any_hit(const Segment& segment) const;

    /// Share of light that everything on the segment together lets through: 0 behind rock or an
    /// opaque colony [1]. Safe from many threads at once.
    double transmittance(const Segment& segment) const;

    /// Lists the colonies on the segment, by index; returns false when rock blocks it (then the
    /// list means nothing). Safe from many threads at once.
    bool intersections(const Segment& segment, std::vector<Intersection>& out) const;

    /// The first thing that stops a segment, if any: rock, an opaque colony, or the spot within
    /// porous ones where the optical depth along the segment reaches `optical_depth`. Colony `own`
    /// stops nothing (-1: all do). Safe from many threads at once.
    bool first_hit(const Segment& segment, int own, double optical_depth, Hit& out) const;

  private:
    struct Scene;
    std::unique_ptr<Scene> scene_;
};

/// Extinction along a chord, k = G a, for a canopy whose branches point all ways: G = 0.5 (Monsi &
/// Saeki 1953; spherical leaf angles). `canopy_m2_per_m3` of 0 means opaque: infinity [1/m].
double extinction_per_m(double canopy_m2_per_m3);

}  // namespace bedshade
