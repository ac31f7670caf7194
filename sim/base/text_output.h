// Text files that appear whole or not at all.
#pragma once

#include <filesystem>
#include <string_view>

namespace bedshade {

/// Writes a file beside its final name, syncs it and renames it. Throws std::runtime_error naming
/// the file and the reason; then nothing is left under either name.
void write_text(const std::filesystem::path& path, std::string_view text);

}  // namespace bedshade
