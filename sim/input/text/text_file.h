// Reads a whole file, or reports why it cannot be read.
#pragma once

#include <cstdint>
#include <filesystem>
#include <optional>
#include <string>
#include <string_view>

#include "sim/input/text/diagnostics.h"

namespace bedshade {

/// Far above any layout; a file larger than this is something else.
inline constexpr std::uintmax_t kLargestTextFile = 8U << 20U;

/// The content of a file of at most `most_bytes`. Reports errors at `named_at` and returns
/// nothing when it is missing, no ordinary file, too large or cannot be read.
std::optional<std::string> read_bytes(const std::filesystem::path& path, std::uintmax_t most_bytes,
                                      const Place& named_at, Diagnostics& diagnostics);

/// The text of a file, without a byte-order mark. Names what is wrong at `named_at` (the place
/// that named the file, or the file itself) and returns nothing when it is missing, a directory,
/// too large, or not UTF-8 text.
std::optional<std::string> read_text_file(const std::filesystem::path& path, const Place& named_at,
                                          Diagnostics& diagnostics);

/// Whether the text is valid UTF-8 text; reports the error otherwise.
bool is_plain_text(std::string_view text, const std::string& file, Diagnostics& diagnostics);

}  // namespace bedshade
