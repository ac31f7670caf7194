// Resolves a layout file: the layouts it extends, itself and the change files, as one table.
#pragma once

#include <filesystem>
#include <optional>
#include <string>
#include <string_view>
#include <toml++/toml.h>
#include <vector>

#include "sim/input/text/diagnostics.h"

namespace bedshade {

/// Longest chain of layouts that extend one another.
inline constexpr std::size_t kLongestExtends = 16;

/// Reads the file, all it extends and the changes, and lays them over one another. Nothing when one
/// of them cannot be read; problems hold why.
std::optional<toml::table> resolve_layout(const std::filesystem::path& path,
                                          const std::vector<std::filesystem::path>& changes,
                                          Diagnostics& diagnostics);

/// The same for a text in place of a file named `file`.
std::optional<toml::table> resolve_layout_text(std::string_view text, const std::string& file,
                                               const std::vector<std::filesystem::path>& changes,
                                               Diagnostics& diagnostics);

/// A path in a layout is relative to the folder of its file.
std::filesystem::path path_beside(const toml::node& said_by, std::string_view written);

}  // namespace bedshade
