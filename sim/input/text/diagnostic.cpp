#include "sim/input/text/diagnostic.h"

#include <algorithm>
#include <fmt/format.h>

#include "sim/base/text.h"

namespace bedshade {
namespace {

constexpr std::size_t kLongestShownLine = 160;

/// The source line of a message with a caret under the column.
std::string quoted_line(const Diagnostic& d) {
    std::string line = d.source_line;
    std::replace(line.begin(), line.end(), '\t', ' ');
    std::string out = fmt::format("    {}\n", escape_control(line));
    if (d.column <= 0) return out;
    const auto before = first_characters(line, static_cast<std::size_t>(d.column) - 1);
    return out + fmt::format("    {}^\n", std::string(shown_width(escape_control(before)), ' '));
}

std::string joined(const std::vector<Diagnostic>& diagnostics) {
    std::string text;
    for (const auto& d : diagnostics) text += render(d);
    return text;
}

}  // namespace

std::string render(const Diagnostic& d) {
    std::string out = escape_control(d.file);
    if (d.line > 0) out += fmt::format(":{}", d.line);
    if (d.line > 0 && d.column > 0) out += fmt::format(":{}", d.column);
    out += fmt::format(": {}: {}\n", d.level == Diagnostic::Level::error ? "error" : "warning",
                       d.what);
    if (!d.source_line.empty() && d.source_line.size() <= kLongestShownLine) out += quoted_line(d);
    if (!d.help.empty()) out += fmt::format("    help: {}\n", d.help);
    return out;
}

InputError::InputError(std::vector<Diagnostic> diagnostics)
    : std::runtime_error(joined(diagnostics)), diagnostics_(std::move(diagnostics)) {}

}  // namespace bedshade
