#include "tools/bedshade/cache_folder.h"

#include <cstdlib>

namespace bedshade {
namespace {

const char* set(const char* name) {
    const char* value = std::getenv(name);
    return value && *value ? value : nullptr;
}

}  // namespace

std::filesystem::path cache_folder() {
    if (std::getenv("BEDSHADE_CACHE")) return std::getenv("BEDSHADE_CACHE");
    if (const char* cache = set("XDG_CACHE_HOME")) return std::filesystem::path(cache) / "bedshade";
    if (const char* home = set("HOME")) return std::filesystem::path(home) / ".cache/bedshade";
    return {};
}

}  // namespace bedshade
