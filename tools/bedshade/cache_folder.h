// The folder of the program's caches.
#pragma once

#include <filesystem>

namespace bedshade {

/// $BEDSHADE_CACHE, or else `bedshade` in $XDG_CACHE_HOME, or else in ~/.cache; empty where none of
/// them is set, or where $BEDSHADE_CACHE is set to nothing.
std::filesystem::path cache_folder();

}  // namespace bedshade
