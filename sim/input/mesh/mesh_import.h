// A screened mesh as triangles with shared corners.
#pragma once

#include <array>
#include <vector>

#include "model/base/geometry.h"

#include "sim/input/mesh/mesh_screen.h"

namespace bedshade {

/// Triangles in the units of the file. Single precision, as in STL files; vertices are numbered as
/// the triangles come to them.
struct MeshShape {
    std::vector<Eigen::Vector3f> vertices;
    std::vector<std::array<int, 3>> triangles;
};

/// Polygons cut into triangles, corners in the same place made one, triangles with two corners in
/// the same place dropped. Throws MeshFault when the importer will not have it or nothing is left.
MeshShape import_mesh(const CleanMesh& mesh);

}  // namespace bedshade
