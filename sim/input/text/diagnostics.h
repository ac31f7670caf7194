// Collects the errors in the files of one input, so that all are reported at once,
// and which files those are.
#pragma once

#include <filesystem>
#include <map>
#include <string>
#include <string_view>
#include <toml++/toml.h>
#include <vector>

#include "sim/input/text/diagnostic.h"

namespace bedshade {

/// A place in a file; line and column from 1, 0 for the whole file.
struct Place {
    std::string file;
    int line = 0;
    int column = 0;
};

Place place_of(const toml::source_region& source);
Place place_of(const toml::node& node);
Place place_of(const toml::key& key);

/// Further errors are only counted: one slip in a generated file can make thousands.
inline constexpr std::size_t kMostErrorsShown = 100;

class Diagnostics {
  public:
    /// Keeps the text of a file, so that messages can show the line they are about.
    void remember(const std::string& file, std::string_view text);

    void error(const Place& place, std::string what, std::string help = {});
    void warn(const Place& place, std::string what, std::string help = {});
    /// Takes over what another reader found.
    void adopt(const std::vector<Diagnostic>& diagnostics);

    bool any_errors() const { return !errors_.empty(); }
    /// Whether another would be kept: past that, no suggestion is worth looking for, which in a
    /// file of thousands of names takes minutes.
    bool keeps_more_errors() const { return errors_.size() < kMostErrorsShown; }
    bool keeps_more_warnings() const { return warnings_.size() < kMostErrorsShown; }
    /// Files of any kind that were opened to be read.
    void note_opened(const std::filesystem::path& path) { opened_.push_back(path); }
    const std::vector<std::filesystem::path>& opened() const { return opened_; }
    /// Throws InputError when there are errors, in the order of the files and their lines.
    void throw_if_any() const;
    std::vector<Diagnostic> warnings() const;

  private:
    /// A place without a file means the first file that was read.
    Diagnostic at(Diagnostic::Level level, const Place& place, std::string what, std::string help);
    std::vector<Diagnostic> in_reading_order(std::vector<Diagnostic> found) const;

    std::map<std::string, std::vector<std::string>> lines_;
    std::vector<std::string> order_;  ///< files as they were first read
    std::vector<std::filesystem::path> opened_;
    std::vector<Diagnostic> errors_, warnings_;
    std::size_t dropped_ = 0;
};

}  // namespace bedshade
