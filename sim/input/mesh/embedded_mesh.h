// A mesh written into the layout itself, as in the text that a trajectory keeps: under the key
// `mesh`, its corners and the corners of its triangles, as two texts of numbers.
#pragma once

#include <cstddef>
#include <optional>
#include <toml++/toml.h>

#include "sim/input/mesh/mesh_import.h"
#include "sim/input/text/table_reader.h"

namespace bedshade {

/// Reads the table `mesh` and reports its errors.
std::optional<MeshShape> read_embedded_mesh(TableReader& in, std::size_t most_triangles);

/// The table that reads back to the same mesh, to the last bit.
toml::table mesh_table(const MeshShape& mesh);

}  // namespace bedshade
