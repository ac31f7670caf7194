// A layout from a table that was put together in memory: what a study makes of its base.
#pragma once

#include <string>
#include <toml++/toml.h>

#include "sim/input/layout/layout_reader.h"
#include "sim/input/text/diagnostics.h"

namespace bedshade {

/// Reads the table as if it had been the file `file`, resolved. Throws InputError holding every
/// problem found, those that `problems` held before among them.
LayoutFile read_layout_table(toml::table table, const std::string& file,
                             const LayoutOptions& options, Diagnostics& diagnostics);

}  // namespace bedshade
