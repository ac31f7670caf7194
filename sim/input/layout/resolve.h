// A layout file with what it extends under it and the change files over it, as one table.
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

/// The same for a text that stands for a file named `file`.
std::optional<toml::table> resolve_layout_text(std::string_view text, const std::string& file,
                                               const std::vector<std::filesystem::path>& changes,
                                               Diagnostics& diagnostics);

/// A path as written in a layout is meant from the folder of the file that says it.
std::filesystem::path path_beside(const toml::node& said_by, std::string_view written);

}  // namespace bedshade
