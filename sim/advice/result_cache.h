// Caches the results of the runs of an advice command in a file, so that an interrupted command
// continues where it stopped.
//
// One file per layout, one line per run. Each line ends with its digest; damaged lines are ignored.
// Only complete runs are cached. Files may be deleted at any time. Write errors are ignored, and a
// file that another process writes to is only read.
#pragma once

#include <filesystem>
#include <functional>
#include <memory>
#include <mutex>
#include <nlohmann/json_fwd.hpp>
#include <optional>
#include <string>
#include <string_view>
#include <unordered_map>

#include "sim/base/line_file.h"
#include "sim/verdict/run_record.h"

namespace bedshade {

/// May be used by several threads at once.
class ResultCache {
  public:
    /// Most files (the least recently used are evicted), and most bytes per file.
    static constexpr std::size_t kMostFiles = 32;
    static constexpr std::size_t kMostBytes = std::size_t{16} << 20U;

    /// A cache in memory only.
    ResultCache() = default;
    /// A cache in `folder`, in the file for `shared`: all inputs of the results that are not in the
    /// name of a run.
    ResultCache(const std::filesystem::path& folder, const std::string& shared);

    /// Makes a run while `go_on` allows it; returns its result.
    using Runner = std::function<nlohmann::ordered_json(const GoOn& go_on)>;
    /// The cached result of the run with this name, reporting the fraction that it reported last.
    /// Made now if not cached, and cached unless stopped.
    nlohmann::ordered_json recall(const std::string& called, const GoOn& go_on,
                                  const Runner& runner);

  private:
    std::optional<nlohmann::ordered_json> find(const std::string& digest);
    void keep(const std::string& digest, const std::string& body);
    void take_line(std::string_view line);

    std::mutex mutex_;
    std::unique_ptr<LineFile> file_;  // none: nothing is written any more
    std::size_t bytes_ = 0;
    std::unordered_map<std::string, std::string> bodies_;  // by digest of the name of the run
};

/// A number as JSON, also if infinite or NaN, which JSON cannot express.
nlohmann::ordered_json json_of_number(double number);
double number_from_json(const nlohmann::ordered_json& json);

}  // namespace bedshade
