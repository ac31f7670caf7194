// Text for people: what may be printed, how wide it is, and the nearest known name.
#pragma once

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

namespace bedshade {

/// The known name nearest to `word` by edit distance, or an empty string when none is near.
std::string nearest_name(std::string_view word, const std::vector<std::string>& known);

/// Number of bytes at the start of `text` that are valid UTF-8.
std::size_t valid_utf8_length(std::string_view text);

/// Text with control characters and invalid UTF-8 shown as \xNN escapes.
std::string escape_control(std::string_view text);

/// Columns a terminal gives to valid UTF-8 text, one a character.
std::size_t shown_width(std::string_view text);

/// The first `count` characters of a text.
std::string_view first_characters(std::string_view text, std::size_t count);

}  // namespace bedshade
