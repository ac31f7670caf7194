#include "tools/bedshade/option_table.h"

#include <algorithm>
#include <cstdint>
#include <fmt/format.h>
#include <limits>
#include <sstream>

#include "sim/base/text.h"

#include "tools/bedshade/option_values.h"

namespace bedshade {
namespace {

void add_shared_options(po::options_description& options, unsigned takes) {
    if ((takes & kTakesTraits) != 0)
        options.add_options()("traits", po::value<std::vector<std::string>>()->value_name("FILE"),
                              "add your own trait table to the built-in one (may be repeated)");
    if ((takes & kTakesThreads) != 0)
        options.add_options()("threads", po::value<int>()->value_name("N"),
                              "processors to use (default: all available)");
    if ((takes & kTakesJson) != 0)
        options.add_options()("json", "print only one JSON document on standard output");
    if ((takes & kTakesQuiet) != 0)
        options.add_options()("quiet", "print no progress and no hints");
    options.add_options()("help,h", "print this help");
}

/// Boost gives value and default in one text: "N (=1)".
void split_value(const std::string& usage_text, OptionRow& row) {
    const std::size_t bracket = usage_text.find(" (=");
    row.value = usage_text.substr(0, bracket);
    if (bracket != std::string::npos)
        row.default_value = usage_text.substr(bracket + 3, usage_text.size() - bracket - 4);
}

OptionRow row_of(const po::option_description& option) {
    OptionRow row;
    row.name = option.long_name();
    const std::string shown =
        option.canonical_display_name(po::command_line_style::allow_dash_for_short);
    if (shown.size() == 2 && shown[0] == '-' && shown[1] != '-') row.letter = shown[1];
    if (option.semantic()->max_tokens() > 0) split_value(option.format_parameter(), row);
    row.text = option.description();
    using Texts = po::typed_value<std::vector<std::string>>;
    row.repeats = dynamic_cast<const Texts*>(option.semantic().get()) != nullptr;
    return row;
}

}  // namespace

std::string OptionRow::usage() const {
    return fmt::format("{}--{}{}{}", letter == '\0' ? "" : fmt::format("-{}, ", letter), name,
                       value.empty() ? "" : " ", value);
}

std::string OptionRow::meaning() const {
    return default_value.empty() ? text : fmt::format("{} (default: {})", text, default_value);
}

po::options_description options_of(const Command& command) {
    po::options_description options;
    command.add_options(options);
    add_shared_options(options, command.takes);
    return options;
}

std::vector<OptionRow> option_rows(const Command& command) {
    const po::options_description options = options_of(command);
    std::vector<OptionRow> rows;
    for (const auto& option : options.options()) rows.push_back(row_of(*option));
    return rows;
}

const std::vector<OptionRow>& program_options() {
    static const std::vector<OptionRow> all = {
        {"help", 'h', "", "", "print the list of commands", false},
        {"version", '\0', "", "", "print the versions of program, model and libraries", false},
        {"man", '\0', "", "", "print this program's man page, for man -l -", false},
        {"completion", '\0', "bash|zsh", "", "print the completions of that shell", false},
    };
    return all;
}

const Command* find_command(const std::string& name) {
    const auto found = std::find_if(commands().begin(), commands().end(),
                                    [&](const Command& command) { return name == command.name; });
    return found == commands().end() ? nullptr : &*found;
}

std::string nearest_command(const std::string& word) {
    std::vector<std::string> names;
    for (const Command& command : commands()) names.emplace_back(command.name);
    return nearest_name(word, names);
}

std::string nearest_option(const std::string& word, const Command& command) {
    std::vector<std::string> names;
    for (const OptionRow& row : option_rows(command)) names.push_back(row.name);
    const std::size_t dashes = std::min(word.find_first_not_of('-'), word.size());
    const std::string near = nearest_name(word.substr(dashes), names);
    return near.empty() ? near : "--" + near;
}

std::string allowed_after(const std::string& option, const Command& command) {
    const po::options_description options = options_of(command);
    const po::option_description* row = options.find_nothrow(option, false);
    const po::value_semantic* value = row == nullptr ? nullptr : row->semantic().get();
    if (dynamic_cast<const po::typed_value<int>*>(value) != nullptr)
        return fmt::format("a whole number of at most {} digits",
                           std::numeric_limits<int>::digits10);
    if (dynamic_cast<const po::typed_value<Count>*>(value) != nullptr)
        return fmt::format("digits, at most {}", std::numeric_limits<std::uint64_t>::max());
    return "a number";  // a text is always accepted
}

CommandText text_of(const Command& command) {
    CommandText text;
    std::istringstream lines(command.help);
    for (std::string line; std::getline(lines, line);) {
        if (line.rfind("  ", 0) == 0)
            text.examples.push_back(line.substr(2));
        else
            text.paragraph += (text.paragraph.empty() ? "" : " ") + line;
    }
    return text;
}

}  // namespace bedshade
