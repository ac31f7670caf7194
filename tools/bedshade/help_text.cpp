#include "tools/bedshade/help_text.h"

#include <algorithm>
#include <fmt/format.h>
#include <sstream>

#include "tools/bedshade/option_table.h"

namespace bedshade {
namespace {

constexpr std::size_t kLineWidth = 80;

/// Words in lines that start after `indent` spaces, the first of which is already there.
std::string wrapped(const std::string& text, std::size_t indent) {
    std::string lines;
    std::size_t column = indent;
    std::istringstream words(text);
    for (std::string word; words >> word;) {
        if (column > indent && column + 1 + word.size() > kLineWidth) {
            lines += fmt::format("\n{:{}}", "", indent);
            column = indent;
        }
        if (column > indent) {
            lines += ' ';
            ++column;
        }
        lines += word;
        column += word.size();
    }
    return lines;
}

std::string option_lines(const std::vector<OptionRow>& rows) {
    std::size_t width = 0;
    for (const OptionRow& row : rows) width = std::max(width, row.usage().size());
    std::string lines;
    for (const OptionRow& row : rows)
        lines +=
            fmt::format("  {:<{}}  {}\n", row.usage(), width, wrapped(row.meaning(), width + 4));
    return lines;
}

}  // namespace

std::string overview_text() {
    std::string text = wrapped(
        "bedshade forecasts a reef layout: how each coral grows, what it shades, and the month in "
        "which something on the bed is starved, smothered or overgrown.",
        0);
    text += "\n\nusage: bedshade COMMAND [OPTIONS]\n\n";
    for (const Command& command : commands())
        text += fmt::format("  {:<10}{}\n", command.name, wrapped(command.summary, 12));
    text += "\noptions:\n" + option_lines(program_options());
    return text +
           "\n  bedshade COMMAND --help says more.\n"
           "  example: bedshade forecast my_tank.toml --out my_tank.h5\n";
}

std::string help_text(const Command& command) {
    const CommandText help = text_of(command);
    std::string text = fmt::format("{}\n\nusage: bedshade {} {} [OPTIONS]\n\n",
                                   wrapped(command.summary, 0), command.name, command.words);
    if (!help.paragraph.empty()) text += wrapped(help.paragraph, 0) + "\n\n";
    for (const std::string& example : help.examples) text += fmt::format("  {}\n", example);
    return text + "\noptions:\n" + option_lines(option_rows(command));
}

}  // namespace bedshade
