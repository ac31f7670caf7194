// The files a forecast leaves: its trajectory, its page, both, or none.
#pragma once

#include <filesystem>
#include <optional>
#include <string>
#include <vector>

#include "tools/bedshade/arguments.h"

namespace bedshade {

/// Reads and checks --out, --page and --force. A page is made from a trajectory; where none is to
/// be kept, that lies in a folder which goes away with this object.
class RunFiles {
  public:
    /// Throws UsageError or OutputError for files that cannot be.
    explicit RunFiles(const Arguments& arguments);
    ~RunFiles();
    RunFiles(const RunFiles&) = delete;
    RunFiles& operator=(const RunFiles&) = delete;

    const std::optional<std::string>& out() const { return out_; }
    const std::optional<std::string>& page() const { return page_; }
    /// Where the trajectory is to be written, if anywhere.
    std::optional<std::string> trajectory() const;
    /// The files that a finished run leaves.
    std::vector<std::string> kept() const;

    /// Makes the page, if one is wanted, from the finished trajectory.
    void write_page() const;

  private:
    std::optional<std::string> out_, page_;
    std::filesystem::path folder_;
};

}  // namespace bedshade
