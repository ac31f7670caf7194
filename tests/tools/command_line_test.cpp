// The command line's manners: help, man page, completions, suggestions, and what a terminal gets.
#include <algorithm>
#include <cstdio>
#include <sstream>

#include "tests/tools/program.h"

namespace bedshade::test {
namespace {

const std::vector<std::string> kCommands = {"new",    "check",     "light",  "forecast", "compare",
                                            "fit",    "place",     "trim",   "arrange",  "batch",
                                            "gather", "picture",   "replay", "export",   "describe",
                                            "rerun",  "reference", "traits"};

std::vector<std::string> lines_of(const std::string& text) {
    std::istringstream in(text);
    std::vector<std::string> lines;
    for (std::string line; std::getline(in, line);) lines.push_back(line);
    return lines;
}

/// The options a help text lists, "--months".
std::vector<std::string> options_in(const std::string& help) {
    std::vector<std::string> options;
    for (const std::string& line : lines_of(help.substr(help.find("\noptions:\n")))) {
        const std::size_t dashes = line.find("--");
        if (dashes == 2 || dashes == 6)
            options.push_back(line.substr(dashes, line.find_first_of(" ", dashes) - dashes));
    }
    return options;
}

/// What a shell's command prints.
std::string shell(const std::string& command) {
    const Folder folder;
    const int status = std::system((command + " >" + folder.file("out") + " 2>&1").c_str());
    INFO(command << "\n" << text_of(folder.file("out")));
    REQUIRE(status == 0);
    return text_of(folder.file("out"));
}

/// What bash offers at the end of `line`, sorted, a blank between.
std::string bash_offers(const Folder& folder, const std::string& line) {
    std::istringstream in(line);
    std::string words, script = folder.file("completions");
    int count = 0;
    for (std::string word; in >> word; ++count) words += word + " ";
    const bool new_word = line.back() == ' ';
    return shell("cd " + folder.file("") + " && bash -c '. " + script + "; COMP_WORDS=(" + words +
                 (new_word ? "\"\"" : "") +
                 "); COMP_CWORD=" + std::to_string(new_word ? count : count - 1) +
                 "; _bedshade; printf \"%s\\n\" \"${COMPREPLY[@]}\" | sort -u | paste -sd\" \"'");
}

}  // namespace

TEST_CASE("the list of commands and every command's help come from one table") {
    const Ran overview = run("--help");
    CHECK(overview.code == 0);
    for (const std::string& name : kCommands) {
        INFO(name);
        CHECK(holds(overview.out, "\n  " + name + " "));
        const Ran help = run(name + " --help");
        CHECK(help.code == 0);
        CHECK(holds(help.out, "usage: bedshade " + name + " "));
        CHECK(holds(help.out, "\n  bedshade " + name));  // an example
        CHECK(help.out == run("help " + name).out);
        for (const std::string& line : lines_of(help.out))
            if (line.rfind("  bedshade ", 0) != 0) CHECK(line.size() <= 80);
    }
    const auto commands = std::count_if(
        kCommands.begin(), kCommands.end(),
        [&](const std::string& name) { return holds(overview.out, "\n  " + name + " "); });
    std::size_t listed = 0;
    for (const std::string& line :
         lines_of(overview.out.substr(0, overview.out.find("\noptions:\n"))))
        listed += line.size() > 3 && line.rfind("  ", 0) == 0 && line[2] != ' ' ? 1 : 0;
    CHECK(listed == static_cast<std::size_t>(commands));
}

TEST_CASE("the man page has every command and option, without roff warnings") {
    const Folder folder;
    const std::string page = run("--man").out;
    write(folder.file("bedshade.1"), page);
    if (std::system("command -v man >/dev/null 2>&1") != 0) return;
    const std::string shown =
        shell("MANWIDTH=200 man --warnings -l " + folder.file("bedshade.1") + " | col -b");
    CHECK_FALSE(holds(shown, "warning"));
    for (const std::string& name : kCommands) {
        INFO(name);
        const std::size_t at = shown.find("\n   " + name + "\n");
        REQUIRE(at != std::string::npos);
        const std::string part =
            shown.substr(at, shown.find("\n   ", at + 5) == std::string::npos ? std::string::npos
                                                                              : shown.size());
        for (const std::string& option : options_in(run(name + " --help").out)) {
            INFO(option);
            CHECK(holds(part, option));
        }
    }
    for (const char* heading : {"EXIT STATUS", "ENVIRONMENT", "NO_COLOR", "BEDSHADE_CACHE"})
        CHECK(holds(shown, heading));
}

TEST_CASE("bash completes commands, options, their words and files by their endings") {
    const Folder folder;
    write(folder.file("completions"), run("--completion bash").out);
    for (const char* name : {"tank.toml", "run.h5", "notes.txt"}) write(folder.file(name), "");
    std::filesystem::create_directory(folder.file("old"));
    CHECK(bash_offers(folder, "bedshade re") == "reference replay rerun\n");
    CHECK(bash_offers(folder, "bedshade --ver") == "--version\n");
    CHECK(bash_offers(folder, "bedshade --completion ") == "bash zsh\n");
    CHECK(bash_offers(folder, "bedshade forecast --m") == "--members --months\n");
    CHECK(bash_offers(folder, "bedshade forecast ") == "old tank.toml\n");
    CHECK(bash_offers(folder, "bedshade describe ") == "old run.h5\n");
    CHECK(bash_offers(folder, "bedshade export run.h5 --to c") == "csv\n");
    CHECK(bash_offers(folder, "bedshade export run.h5 --out ") == "old\n");
    CHECK(bash_offers(folder, "bedshade check tank.toml --traits n") == "notes.txt\n");
    for (const std::string& name : kCommands) {
        INFO(name);
        std::vector<std::string> options = options_in(run(name + " --help").out);
        std::sort(options.begin(), options.end());
        std::string all;
        for (const std::string& option : options) all += (all.empty() ? "" : " ") + option;
        CHECK(bash_offers(folder, "bedshade " + name + " --") == all + "\n");
    }
}

TEST_CASE("zsh can read its completions, which name every option") {
    const std::string script = run("--completion zsh").out;
    CHECK(script.rfind("#compdef bedshade\n", 0) == 0);
    for (const std::string& name : kCommands)
        for (const std::string& option : options_in(run(name + " --help").out)) {
            INFO(name << " " << option);
            CHECK(holds(script.substr(script.find("        " + name + ")\n")), option + "["));
        }
    const Folder folder;
    write(folder.file("_bedshade"), script);
    if (std::system("command -v zsh >/dev/null 2>&1") != 0) return;
    CHECK(shell("zsh -n " + folder.file("_bedshade")).empty());
}

TEST_CASE("a mistyped command or option gets a suggestion") {
    check_refused("forecst tank.toml", "unknown command 'forecst'; did you mean 'forecast'?");
    check_refused("help plac", "unknown command 'plac'; did you mean 'place'?");
    check_refused("forecast tank.toml --mnths 3",
                  "forecast has no option '--mnths'; did you mean '--months'?");
    check_refused("describe run.h5 --threads 2", "describe has no option '--threads'");
    check_refused("export run.h5 --to cvs --out x", "--to is 'cvs'; allowed: csv, gltf, vtk");
    check_refused(
        "forecast tank.toml --members 2.5",
        "the argument ('2.5') for option '--members' is invalid; allowed: a whole number");
    check_refused(
        "forecast tank.toml --seed=-1",
        "the argument ('-1') for option '--seed' is invalid; allowed: digits, at most 1844");
    check_refused("trim tank.toml --confidence most",
                  "the argument ('most') for option '--confidence' is invalid; allowed: a number");
    check_refused("--completion fish", "--completion is 'fish'; allowed: bash, zsh");
}

TEST_CASE("the version names the libraries") {
    const std::string text = run("--version").out;
    for (const char* name :
         {"bedshade ", "model ", "compiler ", "HDF5 1.", "Embree 3.", "udunits 2", "Assimp ",
          "NLopt ", "OpenSSL ", "Ceres ", "fmt ", "Eigen 3.", "Boost 1.", "toml++ ",
          "nlohmann-json ", "Random123", "page with "}) {
        INFO(name);
        CHECK(holds(text, name));
    }
}

TEST_CASE("emphasis goes to terminals only, and not with NO_COLOR or a dumb TERM") {
    if (std::system("command -v script >/dev/null 2>&1") != 0) return;
    const Folder folder;
    write(folder.file("tank.toml"), text_of(kStarving));
    const std::string forecast = " BEDSHADE_CACHE=" + cache() + " " BEDSHADE_PROGRAM " forecast " +
                                 folder.file("tank.toml") + " --months 1 --quiet";
    const auto emphasised = [&](const std::string& setting, bool terminal) {
        const std::string line = setting + forecast;
        const std::string seen = shell(terminal ? "script -qec '" + line + "' /dev/null" : line);
        REQUIRE(holds(seen, "Corals on the bed"));
        return holds(seen, "\033[1m");
    };
    CHECK(emphasised("TERM=xterm NO_COLOR=", true));
    CHECK_FALSE(emphasised("TERM=xterm NO_COLOR=1", true));
    CHECK_FALSE(emphasised("TERM=dumb NO_COLOR=", true));
    CHECK_FALSE(emphasised("TERM=xterm NO_COLOR=", false));
}

}  // namespace bedshade::test
