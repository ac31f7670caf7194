// What came of the runs made for a piece of advice, kept in a file, so that advice that was
// interrupted continues from what was finished when it is asked for again.
//
// A file for all that the runs of one layout share, a line a run: closed by a digest of its
// own, so that a line that is damaged is as good as none. Only whole runs are kept. Files
// may be deleted at any time. Whatever the disk refuses is left be, and a file that another process
// writes to is only read.
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
    /// Files kept, those last used, and bytes of each after which nothing more is kept in it.
    static constexpr std::size_t kMostFiles = 32;
    static constexpr std::size_t kMostBytes = std::size_t{16} << 20U;

    /// Keeps what is asked for in memory alone.
    ResultCache() = default;
    /// Kept in `folder`, in the file of `shared`: all that determines what comes of runs beside
    /// what each is called by.
    ResultCache(const std::filesystem::path& folder, const std::string& shared);

    /// Runs a run, asking whether to continue, and says what came of it.
    using Runner = std::function<nlohmann::ordered_json(const GoOn& go_on)>;
    /// What came of the run called so, with the share that it told last told again; run now and
    /// kept where that is not known and it is not stopped.
    nlohmann::ordered_json recall(const std::string& called, const GoOn& go_on,
                                  const Runner& runner);

  private:
    std::optional<nlohmann::ordered_json> find(const std::string& digest);
    void keep(const std::string& digest, const std::string& body);
    void take_line(std::string_view line);

    std::mutex mutex_;
    std::unique_ptr<LineFile> file_;  // none: nothing is written any more
    std::size_t bytes_ = 0;
    std::unordered_map<std::string, std::string> bodies_;  // by digest of what a run is called
};

/// A value that may be infinite or none as JSON, which has no words for that.
nlohmann::ordered_json json_of_number(double figure);
double number_from_json(const nlohmann::ordered_json& json);

}  // namespace bedshade
