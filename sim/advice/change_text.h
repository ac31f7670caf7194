// Pieces of a change file that advice is written as.
#pragma once

#include <filesystem>
#include <string>
#include <string_view>

namespace bedshade {

/// A text as TOML writes it, in quotes.
std::string toml_quoted(std::string_view text);

/// The head of a layout to be written at `path` that extends the one at `base`.
std::string extending(const std::filesystem::path& path, const std::filesystem::path& base);

}  // namespace bedshade
