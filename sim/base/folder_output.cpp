#include "sim/base/folder_output.h"

#include <fmt/format.h>

#include "sim/base/atomic_file.h"
#include "sim/base/text.h"
#include "sim/base/text_output.h"

namespace bedshade {
namespace {

namespace fs = std::filesystem;

std::string shown(const fs::path& path) {
    return fmt::format("'{}'", escape_control(path.string()));
}

/// `out/` names the folder `out`.
fs::path without_slash(const fs::path& path) {
    return path.has_filename() ? path : path.parent_path();
}

}  // namespace

FolderOutput::FolderOutput(const fs::path& path)
    : path_(without_slash(path)), part_(part_path(path_)) {
    std::error_code error;
    if (fs::exists(fs::symlink_status(path_, error)))
        throw OutputError(fmt::format("{} exists already; name a new folder", shown(path_)));
    check_output(path_, false);
    if (fs::create_directory(part_, error)) return;
    throw OutputError(
        error ? fmt::format("cannot make folder {}: {}", shown(part_), error.message())
              : fmt::format("{} is left from an interrupted export; remove it", shown(part_)));
}

FolderOutput::~FolderOutput() {
    std::error_code ignored;
    if (!finished_) fs::remove_all(part_, ignored);
}

void FolderOutput::add(const std::string& name, std::string_view bytes) {
    write_text(part_ / name, bytes);
}

void FolderOutput::finish() {
    commit_file(part_, path_);
    finished_ = true;
}

}  // namespace bedshade
