// One TOML text into one table whose nodes know where they stood.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <toml++/toml.h>

#include "sim/input/text/diagnostics.h"

namespace bedshade {

/// The table of a TOML text; names a syntax error and returns nothing when it cannot be read.
std::optional<toml::table> parse_toml(std::string_view text, const std::string& file,
                                      Diagnostics& diagnostics);

}  // namespace bedshade
