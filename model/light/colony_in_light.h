// A colony as the ray-tracing scene takes it: mesh, bounds and extinction.
#pragma once

#include "model/base/geometry.h"
#include "model/base/triangle_mesh.h"

namespace bedshade {

/// A colony in the light scene.
struct ColonyInLight {
    TriangleMesh mesh;
    Box bounds;
    double extinction_per_m = 0.0;  ///< of its porous canopy; infinity when opaque
};

}  // namespace bedshade
