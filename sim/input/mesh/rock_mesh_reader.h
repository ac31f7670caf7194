// Rock given as a mesh: OBJ or STL in, a solid placed in the tank out.
//
// Coordinates are metres times `scale`, z up. `at` is where the middle of the base goes: halfway
// along x and y, at the lowest z. `fit` scales the whole evenly instead, to the largest that a box
// of that size holds. `turn` then turns it about the vertical through that middle,
// counter-clockwise seen from above, as azimuths count.
#pragma once

#include <cstddef>
#include <cstdint>
#include <map>
#include <optional>
#include <string>

#include "model/reef/rock.h"

#include "sim/input/mesh/mesh_import.h"
#include "sim/input/text/table_reader.h"

namespace bedshade {

struct LayoutBuilder;

/// Limits on all meshes of one layout together. Rocks with the same file count it again.
inline constexpr std::size_t kMostMeshTriangles = 1'000'000;
inline constexpr std::uintmax_t kMostMeshBytes = 128U << 20U;

/// The meshes of a layout as they were read, and what may still be read.
struct MeshStore {
    std::map<std::string, MeshShape> by_rock;
    std::size_t triangles_left = kMostMeshTriangles;
    std::uintmax_t bytes_left = kMostMeshBytes;
};

/// Reads `file`, `at`, `scale`, `turn` and `fit` of the rock `name`, and remembers its mesh. Warns
/// of a surface that is not closed or does not hang together; turns its triangles to face outward.
std::optional<RockMesh> read_rock_mesh(TableReader& in, const std::string& name,
                                       LayoutBuilder& builder);

}  // namespace bedshade
