#include "sim/base/file_eviction.h"

#include <algorithm>
#include <utility>

namespace bedshade {

namespace fs = std::filesystem;

void evict_least_recently_used(const fs::path& folder, const std::vector<std::string>& endings,
                               std::size_t most) {
    std::vector<std::pair<fs::file_time_type, fs::path>> files;
    std::error_code failed;
    for (fs::directory_iterator entry(folder, failed), end; !failed && entry != end;
         entry.increment(failed)) {
        std::error_code gone;
        const auto when = fs::last_write_time(entry->path(), gone);
        const auto ours = std::find(endings.begin(), endings.end(), entry->path().extension());
        if (!gone && ours != endings.end()) files.emplace_back(when, entry->path());
    }
    std::sort(files.begin(), files.end());
    for (std::size_t i = 0; i + most < files.size(); ++i) fs::remove(files[i].second, failed);
}

}  // namespace bedshade
