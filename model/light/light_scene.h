// Ray-tracing scene of everything that occludes light: rock and colonies.
//
// Queries are straight segments under water. Embree decides hit or miss in single precision, pinned
// to one instruction set so that results do not depend on the machine; chord lengths inside porous
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

/// Intersection of a segment with one colony.
struct Intersection {
    int colony = -1;
    double transmittance = 0.0;  ///< 0 when opaque [1]
};

/// The first surface or canopy point that a backward ray hits.
struct Hit {
    bool by_rock = false;
    int index = -1;  ///< of the rock or the colony
    float distance_m = 0.0F;
    Eigen::Vector3f normal = Eigen::Vector3f::Zero();  ///< unit vector, outward; zero in a canopy
    bool from_inside = false;                          ///< the segment starts within the solid
};

class LightScene {
  public:
    /// A scene of this rock with slots for `colonies` colonies, all empty.
    LightScene(const std::vector<Rock>& rocks, int colonies);
    ~LightScene();
    LightScene(const LightScene&) = delete;
    LightScene& operator=(const LightScene&) = delete;

    /// Adds a colony or changes its shape. `extinction_per_m` is the canopy's k = G a; infinity
    /// makes it opaque. Takes effect with `commit`.
    void place(int colony, const TriangleMesh& mesh, double extinction_per_m);
    void remove(int colony);
    void commit();

    /// Whether the segment hits anything, porous or opaque. Thread-safe.
    bool any_hit(const Segment& segment) const;

    /// Transmittance of everything on the segment together, by Beer-Lambert's law inside porous
    /// canopies; 0 behind rock or an opaque colony [1]. Thread-safe.
    double transmittance(const Segment& segment) const;

    /// Lists the colonies on the segment in order of index; returns false when rock blocks it (the
    /// list is then not valid). Thread-safe.
    bool intersections(const Segment& segment, std::vector<Intersection>& out) const;

    /// The first hit on a segment, if any: rock, an opaque colony, or the point inside porous ones
    /// where the optical depth along the segment reaches `optical_depth`. Colony `own` is ignored
    /// (-1: none is). Thread-safe.
    bool first_hit(const Segment& segment, int own, double optical_depth, Hit& out) const;

  private:
    struct Scene;
    std::unique_ptr<Scene> scene_;
};

/// Extinction along a chord, k = G a, for a canopy of randomly oriented branches: G = 0.5 (Monsi &
/// Saeki 1953; spherical leaf angles). `canopy_m2_per_m3` of 0 means opaque: infinity [1/m].
double extinction_per_m(double canopy_m2_per_m3);

}  // namespace bedshade
