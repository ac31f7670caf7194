// Pieces of a change file that advice is written as.
#pragma once

#include <string>
#include <string_view>

namespace bedshade {

/// A text as TOML writes it, in quotes.
std::string toml_quoted(std::string_view text);

}  // namespace bedshade
