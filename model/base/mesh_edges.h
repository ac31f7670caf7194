// How the triangles of a surface hang together: whether it is closed, and which side is out.
#pragma once

#include <array>
#include <vector>

#include "model/base/geometry.h"

namespace bedshade {

/// Edges that a well-made closed surface does not have.
struct EdgeFaults {
    int open = 0;     ///< of one triangle only
    int crowded = 0;  ///< shared by more than two
    int turned = 0;   ///< shared by two that run it the same way, and so face opposite ways

    bool closed() const { return open == 0 && crowded == 0; }
};

/// Corners index vertices; triangles meet where they share two.
EdgeFaults edge_faults(const std::vector<std::array<int, 3>>& triangles);

/// Turns triangles so that neighbours face the same way and every connected part faces outward:
/// so that the cone from the middle of its base to it has a positive volume, which holds for closed
/// parts wherever that point lies and is the likely way for those open below.
void face_outward(const std::vector<Vec3>& vertices_m, std::vector<std::array<int, 3>>& triangles);

}  // namespace bedshade
