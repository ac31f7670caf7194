// Least-recently-used eviction of cache files.
#pragma once

#include <filesystem>
#include <string>
#include <vector>

namespace bedshade {

/// Deletes all but the `most` files last written of those with one of the endings (".flow") in a
/// folder. What cannot be deleted is left be.
void evict_least_recently_used(const std::filesystem::path& folder,
                               const std::vector<std::string>& endings, std::size_t most);

}  // namespace bedshade
