#include "tools/bedshade/completion.h"

#include <algorithm>
#include <fmt/format.h>

#include "tools/bedshade/option_table.h"

namespace bedshade {
namespace {

/// What may stand in some place of the line.
struct Wanted {
    enum class Kind { anything, one_of, file, folder } kind = Kind::anything;
    std::string what;  ///< one_of: words with blanks between; file: its ending, ".h5" or empty
};

/// By the convention of the table: "csv|vtk" is a choice, "RUN.h5" a file with that ending, "FILE"
/// and "F" a file, "FOLDER" and "DIR" a folder, and other words are for people.
Wanted wanted_by(const std::string& value) {
    if (value.find('|') != std::string::npos) {
        std::string words = value;
        std::replace(words.begin(), words.end(), '|', ' ');
        return {Wanted::Kind::one_of, words};
    }
    const std::size_t dot = value.find('.');
    if (dot != std::string::npos) return {Wanted::Kind::file, value.substr(dot)};
    if (value == "FILE" || value == "F") return {Wanted::Kind::file, ""};
    if (value == "FOLDER" || value == "DIR") return {Wanted::Kind::folder, ""};
    return {};
}

/// The words a command takes: layouts and changes end in .toml, runs in .h5.
Wanted wanted_words(const Command& command) {
    const std::string words = command.words;
    if (words.find("DIR|") == 0) return {Wanted::Kind::file, ""};
    if (words.find("RUN.h5") == 0) return {Wanted::Kind::file, ".h5"};
    if (words.find("LAYOUT") != std::string::npos) return {Wanted::Kind::file, ".toml"};
    return {};
}

std::string names_of(const std::vector<OptionRow>& rows) {
    std::string names;
    for (const OptionRow& row : rows) names += (names.empty() ? "--" : " --") + row.name;
    return names;
}

std::string command_names() {
    std::string names;
    for (const Command& command : commands()) names += fmt::format("{} ", command.name);
    return names;
}

/// The bash that offers what is wanted.
std::string bash_offer(const Wanted& wanted) {
    switch (wanted.kind) {
        case Wanted::Kind::one_of:
            return fmt::format("COMPREPLY=($(compgen -W \"{}\" -- \"$word\"))", wanted.what);
        case Wanted::Kind::file:
            return fmt::format("_bedshade_files \"{}\" \"$word\"", wanted.what);
        case Wanted::Kind::folder:
            return "_bedshade_files / \"$word\"";  // which no file ends in
        case Wanted::Kind::anything:
            break;
    }
    return ":";
}

std::string bash_values(const std::string& command, const std::vector<OptionRow>& rows) {
    std::string cases;
    for (const OptionRow& row : rows)
        if (!row.value.empty())
            cases += fmt::format("        \"{} --{}\") {}; return ;;\n", command, row.name,
                                 bash_offer(wanted_by(row.value)));
    return cases;
}

std::string zsh_quoted(const std::string& text) {
    std::string out;
    for (const char c : text) {
        if (c == '\'')
            out += "'\\''";
        else if (c == '[' || c == ']' || c == ':')
            out += fmt::format("\\{}", c);
        else
            out += c;
    }
    return out;
}

/// The zsh action that offers what is wanted.
std::string zsh_offer(const Wanted& wanted) {
    switch (wanted.kind) {
        case Wanted::Kind::one_of:
            return "(" + wanted.what + ")";
        case Wanted::Kind::file:
            return wanted.what.empty() ? "_files" : "_files -g \"*" + wanted.what + "\"";
        case Wanted::Kind::folder:
            return "_files -/";
        case Wanted::Kind::anything:
            break;
    }
    return "";
}

std::string zsh_option(const OptionRow& row) {
    const std::string value = row.value.empty() ? ""
                                                : fmt::format(":{}:{}", zsh_quoted(row.value),
                                                              zsh_offer(wanted_by(row.value)));
    return fmt::format("            '{}--{}[{}]{}' \\\n", row.repeats ? "*" : "", row.name,
                       zsh_quoted(row.meaning()), value);
}

std::string zsh_command(const Command& command) {
    std::string text =
        fmt::format("        {})\n            _arguments -S \\\n", zsh_quoted(command.name));
    for (const OptionRow& row : option_rows(command)) text += zsh_option(row);
    return text + fmt::format("            '*:word:{}' ;;\n", zsh_offer(wanted_words(command)));
}

}  // namespace

std::string bash_completion() {
    std::string values = bash_values("bedshade", program_options()), commands_part;
    for (const Command& command : commands()) {
        const auto rows = option_rows(command);
        values += bash_values(command.name, rows);
        commands_part += fmt::format(
            "        {}) case $word in\n"
            "            -*) COMPREPLY=($(compgen -W \"{}\" -- \"$word\")) ;;\n"
            "            *) {} ;;\n"
            "        esac ;;\n",
            command.name, names_of(rows), bash_offer(wanted_words(command)));
    }
    return "# Bash completions of bedshade, written by `bedshade --completion bash`.\n"
           "_bedshade_files() {  # folders, and files with an ending\n"
           "    local IFS=$'\\n'\n"
           "    COMPREPLY=($(compgen -d -- \"$2\") $(compgen -f -X \"!*$1\" -- \"$2\"))\n"
           "}\n"
           "_bedshade() {\n"
           "    local word=${COMP_WORDS[COMP_CWORD]} before=${COMP_WORDS[COMP_CWORD - 1]}\n"
           "    local command=${COMP_WORDS[1]}\n"
           "    COMPREPLY=()\n"
           "    if [ \"$COMP_CWORD\" -eq 1 ]; then\n"
           "        COMPREPLY=($(compgen -W \"" +
           command_names() + names_of(program_options()) +
           "\" -- \"$word\"))\n"
           "        return\n"
           "    fi\n"
           "    [ \"$COMP_CWORD\" -gt 2 ] || [ \"$command\" != --completion ] || command=bedshade\n"
           "    case \"$command $before\" in\n" +
           values + "    esac\n    case $command in\n" + commands_part +
           "    esac\n}\ncomplete -o filenames -F _bedshade bedshade\n";
}

std::string zsh_completion() {
    std::string names, cases;
    for (const Command& command : commands()) {
        names += fmt::format("        '{}:{}'\n", command.name, zsh_quoted(command.summary));
        cases += zsh_command(command);
    }
    std::string options;
    for (const OptionRow& row : program_options()) options += zsh_option(row);
    return "#compdef bedshade\n"
           "# Zsh completions of bedshade, written by `bedshade --completion zsh`.\n"
           "_bedshade() {\n"
           "    local -a commands=(\n" +
           names +
           "    )\n"
           "    if (( CURRENT == 2 )) && [[ $words[2] != -* ]]; then\n"
           "        _describe command commands\n"
           "        return\n"
           "    fi\n"
           "    if [[ $words[2] == -* ]]; then\n"
           "        _arguments \\\n" +
           options +
           "            ':' \n"
           "        return\n"
           "    fi\n"
           "    shift words\n"
           "    (( CURRENT-- ))\n"
           "    case $words[1] in\n" +
           cases +
           "    esac\n"
           "}\n"
           "_bedshade \"$@\"\n";
}

}  // namespace bedshade
