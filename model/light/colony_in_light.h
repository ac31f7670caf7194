// A colony as the ray-tracing scene takes it: mesh, bounds and extinction.
#pragma once

#include "model/base/geometry.h"
#include "model/base/triangle_mesh.h"

namespace bedshade {

/// A colony as light meets it.
struct ColonyInLight {
    TriangleMesh mesh;
    Box bounds;
    double extinction_per_m = 0.0;  ///< of its canopy; infinity when opaque
};

}  // namespace bedshade
