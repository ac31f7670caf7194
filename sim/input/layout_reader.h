// Layout files (TOML) in, Layouts out, with every problem named in one pass.
#pragma once

#include <filesystem>
#include <string>
#include <vector>

#include "model/reef/layout.h"

#include "sim/input/diagnostic.h"
#include "sim/input/traits_reader.h"

namespace bedshade {

struct LayoutFile {
    Layout layout;
    std::string text;         ///< the layout as resolved (extends and changes merged in), as TOML
    std::string traits_text;  ///< every trait table laid down, in order
    std::vector<Diagnostic> warnings;
};

struct LayoutOptions {
    std::vector<std::filesystem::path> trait_files;  ///< laid over the built-in table, in order
    std::vector<std::filesystem::path> changes;  ///< change files laid over the layout, in order
};

/// Reads a layout file. Throws InputError holding every problem found (all of them in one pass;
/// after a syntax error the rest of that file cannot be read, and the message says so).
LayoutFile read_layout(const std::filesystem::path& path, const LayoutOptions& options = {});

}  // namespace bedshade
