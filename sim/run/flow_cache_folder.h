// Solved flow fields kept in a folder from one run to the next.
//
// A file a field, named by the SHA-256 of what the field depends on, and closed by that of its own
// bytes: a file that is cut short, spoilt or of another version is as good as none. Files are
// written beside and renamed, so that two programs may use one folder, and it may be deleted at any
// time. Whatever the disk refuses is left be.
#pragma once

#include <filesystem>

#include "sim/run/flow_cache.h"

namespace bedshade {

class FlowCacheFolder final : public FlowCacheStorage {
  public:
    /// Files kept, those last used: about half a megabyte each.
    static constexpr std::size_t kMostFiles = 64;

    explicit FlowCacheFolder(std::filesystem::path folder) : folder_(std::move(folder)) {}

    std::shared_ptr<const TankFlow> take(const std::string& key) override;
    void put(const std::string& key, const TankFlow& flow) override;

  private:
    std::filesystem::path file_of(const std::string& digest) const;

    std::filesystem::path folder_;
};

}  // namespace bedshade
