// The projection of a shape along an axis.
#pragma once

#include <vector>

#include "model/base/geometry.h"
#include "model/base/triangle_mesh.h"

namespace bedshade {

/// Outline of a mesh seen along the third axis, in metres of the axes `across` and `up` (0 x, 1 y,
/// 2 z): for even steps across it the highest points, then the lowest ones back. What is hollow
/// across a step is filled.
std::vector<Vec2> silhouette(const TriangleMesh& mesh, int across, int up);

}  // namespace bedshade
