// Layout files (TOML) in, Layouts out, with every problem named in one pass.
#pragma once

#include <filesystem>
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "model/reef/layout.h"

#include "sim/input/text/diagnostic.h"
#include "sim/input/traits/traits_reader.h"
#include "sim/run/checkpoint.h"

namespace bedshade {

struct LayoutFile {
    Layout layout;
    std::shared_ptr<const Checkpoint> checkpoint;  ///< of a run that continues; null: from day 0
    std::string text;  ///< the layout as resolved (extends, changes, spectra merged in), as TOML:
                       ///< with `traits_text` it reads back to the same Layout from any folder
    std::string traits_text;  ///< every trait table laid down, in order
    std::vector<Diagnostic> warnings;
    std::vector<std::filesystem::path> opened;  ///< files that any of it was read from
};

struct LayoutOptions {
    std::vector<std::filesystem::path> trait_files;  ///< laid over the built-in table, in order
    std::vector<std::filesystem::path> changes;  ///< change files laid over the layout, in order
    std::optional<std::string> traits_text;      ///< replaces the built-in trait table
};

/// Reads a layout file. Throws InputError holding every problem found (all of them in one pass;
/// after a syntax error the rest of that file cannot be read, and the message says so).
LayoutFile read_layout(const std::filesystem::path& path, const LayoutOptions& options = {});

/// The same for a text; `file` names it in messages, and what it names lies beside that file.
LayoutFile read_layout_text(std::string_view text, const std::string& file,
                            const LayoutOptions& options = {});

}  // namespace bedshade
