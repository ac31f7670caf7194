// Rock as triangles, for the ray-tracing scene.
#pragma once

#include "model/base/triangle_mesh.h"
#include "model/reef/rock.h"

namespace bedshade {

/// Triangles of a rock's surface; a dome gets 48 segments around and 12 rings up, scaled so that
/// its base circle has the true area.
TriangleMesh rock_mesh(const Rock& rock);

}  // namespace bedshade
