// A folder of files that appears whole or not at all.
#pragma once

#include <filesystem>
#include <string>
#include <string_view>

namespace bedshade {

/// Grows as NAME.part and gets its name when it is finished.
class FolderOutput {
  public:
    /// Throws OutputError unless a folder could be made at `path`: where something has that name,
    /// or an export that was stopped left NAME.part.
    explicit FolderOutput(const std::filesystem::path& path);
    /// Not finished: takes away what was written.
    ~FolderOutput();
    FolderOutput(const FolderOutput&) = delete;
    FolderOutput& operator=(const FolderOutput&) = delete;

    /// Writes one file. Throws std::runtime_error naming it and the reason.
    void add(const std::string& name, std::string_view bytes);
    void finish();

  private:
    std::filesystem::path path_, part_;
    bool finished_ = false;
};

}  // namespace bedshade
