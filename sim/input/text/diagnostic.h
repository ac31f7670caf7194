// A message about a file: where, what was found, what is allowed.
#pragma once

#include <stdexcept>
#include <string>
#include <vector>

namespace bedshade {

struct Diagnostic {
    enum class Level { error, warning };
    Level level = Level::error;
    std::string file;
    int line = 0;             ///< from 1; 0 when it concerns the whole file
    int column = 0;           ///< from 1, in characters; 0 when it concerns the whole line
    std::string source_line;  ///< the text of that line; empty when there is none to show
    std::string what;         ///< lower case, no full stop: what was found and why it is invalid
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

}  // namespace bedshade
