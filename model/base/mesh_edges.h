// Topology of a triangle mesh: whether it is closed and consistently oriented.
#pragma once

#include <array>
#include <vector>

#include "model/base/geometry.h"

namespace bedshade {

/// Defective edges: a closed, consistently oriented surface has none.
struct EdgeFaults {
    int open = 0;     ///< of one triangle only
    int crowded = 0;  ///< non-manifold: shared by more than two triangles
    int turned = 0;   ///< shared by two triangles of opposite orientation

    bool closed() const { return open == 0 && crowded == 0; }
};

/// Corners index vertices; triangles meet where they share two.
EdgeFaults edge_faults(const std::vector<std::array<int, 3>>& triangles);

/// Flips triangles so that neighbours have the same orientation and every connected part faces
/// outward: the signed volume of the cone from the centre of its base is positive. This is exact
/// for closed parts and likely for parts open below.
void face_outward(const std::vector<Vec3>& vertices_m, std::vector<std::array<int, 3>>& triangles);

}  // namespace bedshade
