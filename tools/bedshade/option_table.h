// The one table of what the command line allows: help, man page and completions are read off it.
#pragma once

#include <string>
#include <vector>

#include "tools/bedshade/arguments.h"

namespace bedshade {

/// One option as a reader sees it.
struct OptionRow {
    std::string name;           ///< long, without dashes
    char letter = '\0';         ///< its short form; '\0': none
    std::string value;          ///< what follows it, "RUN.h5"; empty: nothing does
    std::string default_value;  ///< empty: none
    std::string text;           ///< what it does
    bool repeats = false;

    /// "--months M", "-h, --help"
    std::string usage() const;
    /// Its text, and its default where it has one.
    std::string meaning() const;
};

/// Options of a command, its own and those it shares with others.
po::options_description options_of(const Command& command);
std::vector<OptionRow> option_rows(const Command& command);

/// Options in place of a command: --version and the like.
const std::vector<OptionRow>& program_options();

/// Nothing where no command has that name.
const Command* find_command(const std::string& name);
/// The command meant by a mistyped name, or an empty string.
std::string nearest_command(const std::string& word);
/// "--months" for "--mnths"; empty where no option of the command is near.
std::string nearest_option(const std::string& word, const Command& command);

/// What may follow an option of the command, by the type of number it is read as.
std::string allowed_after(const std::string& option, const Command& command);

/// A command's help, as one paragraph (lines joined) and examples.
struct CommandText {
    std::string paragraph;
    std::vector<std::string> examples;
};
CommandText text_of(const Command& command);

}  // namespace bedshade
