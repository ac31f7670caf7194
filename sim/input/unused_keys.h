// Keys that a layout may hold and that nothing reckons with: the user is told so.
#pragma once

#include <toml++/toml.h>

#include "sim/input/problems.h"

namespace bedshade {

/// Warns, once for each kind of key, of what the layout sets to no effect.
void warn_of_unused_keys(const toml::table& layout, Problems& problems);

}  // namespace bedshade
