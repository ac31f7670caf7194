// What a user is told about a file: where, what was found, what is allowed.
#pragma once

#include <cstddef>
#include <stdexcept>
#include <string>
#include <string_view>
#include <vector>

namespace bedshade {

struct Diagnostic {
    enum class Level { error, warning };
    Level level = Level::error;
    std::string file;
    int line = 0;             ///< from 1; 0 when it concerns the whole file
    int column = 0;           ///< from 1, in characters; 0 when it concerns the whole line
    std::string source_line;  ///< the text of that line; empty when there is none to show
    std::string what;         ///< lower case, no full stop: what was found and why it will not do
    std::string help;         ///< what is allowed, or the nearest known name; may be empty
};

/// `file:line:column: error: what`, the line, a caret, `help: …`. Control characters in quoted text
/// are shown as escapes, so that a file cannot drive the terminal. Ends with a newline.
std::string render(const Diagnostic& diagnostic);

/// Everything wrong with an input, found in one pass.
class InputError : public std::runtime_error {
  public:
    explicit InputError(std::vector<Diagnostic> diagnostics);
    const std::vector<Diagnostic>& diagnostics() const { return diagnostics_; }

  private:
    std::vector<Diagnostic> diagnostics_;
};

/// The known name nearest to `word` by edit distance, or an empty string when none is near.
std::string nearest_name(std::string_view word, const std::vector<std::string>& known);

/// Number of bytes at the start of `text` that are valid UTF-8.
std::size_t valid_utf8_length(std::string_view text);

/// Text with control characters and invalid UTF-8 shown as \xNN escapes.
std::string printable(std::string_view text);

}  // namespace bedshade
