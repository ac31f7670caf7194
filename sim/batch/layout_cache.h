// The layouts of a study, each read when it is first wanted.
#pragma once

#include <list>
#include <memory>
#include <mutex>
#include <string>
#include <vector>

#include "sim/batch/study.h"
#include "sim/input/layout/layout_reader.h"

namespace bedshade {

/// May be used by several threads at once. A layout that is read stays as it was; a file that
/// was changed between its fingerprint and its first reading is a std::runtime_error.
class LayoutCache {
  public:
    LayoutCache(std::vector<StudyLayout> layouts, LayoutOptions options);

    std::size_t size() const { return layouts_.size(); }
    const std::string& name(std::size_t layout) const { return layouts_[layout].name; }
    const std::string& file_name(std::size_t layout) const { return file_names_[layout]; }
    /// Of the layout and the trait tables.
    std::string fingerprint(std::size_t layout);
    /// The layout, read in full. Throws InputError, or std::runtime_error for a changed file.
    std::shared_ptr<const LayoutFile> read(std::size_t layout);

  private:
    std::string fingerprint_now(std::size_t layout) const;

    std::vector<StudyLayout> layouts_;
    LayoutOptions options_;
    std::vector<std::string> file_names_;
    std::mutex mutex_;
    std::vector<std::string> fingerprints_;
    std::list<std::pair<std::size_t, std::shared_ptr<const LayoutFile>>> read_;  // last used first
};

}  // namespace bedshade
