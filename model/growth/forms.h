// Geometry of a colony: closed triangle mesh and live patches from a polar outline and the vertical
// profile of its growth form.
#pragma once

#include <array>

#include "model/base/geometry.h"
#include "model/base/triangle_mesh.h"
#include "model/reef/colony.h"
#include "model/reef/reef.h"
#include "model/reef/taxon.h"

namespace bedshade {

/// Everything a colony's geometry depends on.
struct ColonyShape {
    Form form = Form::massive;
    Vec3 base_m = Vec3::Zero();
    double facing_azimuth_rad = 0.0;  ///< direction toward which its axis is tilted
    double facing_tilt_rad = 0.0;     ///< of its axis from straight up
    RadialProfile radius_m{};
    double height_m = 0.0;
};

ColonyShape shape_of(const Taxon& taxon, const Colony& colony, const ColonyState& state);

/// The closed mesh of a colony. Its plan area equals `planar_area_m2` of the outline to 0.1 % when
/// it is not tilted, so that a round outline casts the shadow of a disc.
TriangleMesh mesh_of(const ColonyShape& shape);

/// A patch of the upper live surface for which light is computed.
struct LivePatch {
    Vec3 position_m =
        Vec3::Zero();  ///< just outside the mesh, so that rays from it do not hit the mesh
    Vec3 normal = Vec3::UnitZ();  ///< unit vector, outward
    double area_m2 = 0.0;
    int sector = 0;
};

/// Rings of patches on every colony's upper side, inner to outer.
inline constexpr int kPatchRings = 2;
inline constexpr int kPatches = kPatchRings * kSectors;

/// The kPatches live patches of a colony, ring by ring, sector by sector.
std::array<LivePatch, kPatches> live_patches(const ColonyShape& shape);

/// Whether a point lies inside the colony's closed shape grown outward by `margin_m`.
bool inside(const ColonyShape& shape, const Vec3& point_m, double margin_m = 0.0);

/// Position of the rim in sector `s` for the outline radius `radius_m`, in tank coordinates.
Vec3 rim_point_m(const ColonyShape& shape, int s, double radius_m);

/// The box that holds the whole mesh.
Box bounds_of(const ColonyShape& shape);

}  // namespace bedshade
