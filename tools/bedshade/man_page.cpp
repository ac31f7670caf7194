#include "tools/bedshade/man_page.h"

#include <fmt/format.h>

#include "sim/base/model_version.h"

#include "tools/bedshade/option_table.h"

namespace bedshade {
namespace {

/// Text as roff takes it: backslashes and hyphens escaped, no line that begins like a request.
std::string roff(const std::string& text) {
    std::string out;
    for (const char c : text) {
        const bool starts_line = out.empty() || out.back() == '\n';
        if (starts_line && (c == '.' || c == '\'')) out += "\\&";
        if (c == '\\')
            out += "\\e";
        else if (c == '-')
            out += "\\-";
        else
            out += c;
    }
    return out;
}

std::string options_part(const std::vector<OptionRow>& rows) {
    std::string text;
    for (const OptionRow& row : rows)
        text += fmt::format(".TP\n.B {}\n{}\n", roff(row.usage()), roff(row.meaning()));
    return text;
}

std::string command_part(const Command& command) {
    const CommandText help = text_of(command);
    std::string text = fmt::format(".SS {0}\n.B bedshade {0}\n{1} [OPTIONS]\n.PP\n{2}.\n",
                                   roff(command.name), roff(command.words), roff(command.summary));
    if (!help.paragraph.empty()) text += ".PP\n" + roff(help.paragraph) + "\n";
    if (!help.examples.empty()) text += ".PP\n.RS\n.nf\n";
    for (const std::string& example : help.examples) text += roff(example) + "\n";
    if (!help.examples.empty()) text += ".fi\n.RE\n";
    return text + options_part(option_rows(command));
}

constexpr const char* kExitStatus =
    ".SH EXIT STATUS\n"
    ".TP\n.B 0\ndone\n"
    ".TP\n.B 1\nfailed while running; for rerun: the result differs\n"
    ".TP\n.B 2\nthe command line or an input is invalid; nothing was written\n"
    ".TP\n.B 3\na flag was raised, with \\-\\-fail\\-on\\-flag\n"
    ".TP\n.B 130\ninterrupted\n";

constexpr const char* kEnvironment =
    ".SH ENVIRONMENT\n"
    ".TP\n.B NO_COLOR\nset and not empty: no emphasis. There is also none if the output is not a "
    "terminal or TERM is dumb.\n"
    ".TP\n.B BEDSHADE_CACHE\nfolder for cached flow fields and runs of advice; empty: no cache. "
    "Without it, bedshade in XDG_CACHE_HOME or in ~/.cache.\n"
    ".TP\n.B SLURM_CPUS_PER_TASK\nprocessors to use without \\-\\-threads.\n";

constexpr const char* kFiles =
    ".SH FILES\n"
    "Layouts, changes and studies are TOML, measurements and trait tables CSV, runs HDF5. What\n"
    "they contain is described in the documents installed beside this page, share/doc/bedshade.\n";

}  // namespace

std::string man_page() {
    std::string text = fmt::format(
        ".TH BEDSHADE 1 \"\" \"bedshade {}\" \"User Commands\"\n"
        ".SH NAME\nbedshade \\- forecast which corals a reef layout will starve, smother or crowd\n"
        ".SH SYNOPSIS\n.B bedshade\nCOMMAND [OPTIONS]\n"
        ".SH DESCRIPTION\n{}\n",
        kProgramVersion,
        roff("Steps a reef layout through time: how each coral grows, what it shades, and the "
             "month in which something on the bed is starved, smothered or overgrown."));
    text += ".SH OPTIONS\n" + options_part(program_options()) + ".SH COMMANDS\n";
    for (const Command& command : commands()) text += command_part(command);
    return text + kExitStatus + kEnvironment + kFiles;
}

}  // namespace bedshade
