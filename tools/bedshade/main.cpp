// The program: finds the command, parses its options, runs it, and turns errors into exit codes.
#include <algorithm>
#include <cstdio>
#include <cstdlib>
#include <exception>
#include <fmt/format.h>
#include <memory>
#include <new>
#include <sstream>

#include "sim/output/flow_folder.h"
#include "sim/output/output_path.h"
#include "sim/output/trajectory.h"

#include "tools/bedshade/arguments.h"
#include "tools/bedshade/cache_folder.h"
#include "tools/bedshade/terminal.h"
#include "tools/bedshade/version.h"

namespace {

using namespace bedshade;

void print_overview(std::FILE* to) {
    fmt::print(
        to,
        "bedshade forecasts a reef layout: what each coral grows to, what it shades, and the "
        "month\nin which something on the bed is starved, smothered or overgrown.\n\n"
        "usage: bedshade COMMAND [OPTIONS]\n\n");
    for (const Command& command : commands())
        fmt::print(to, "  {:<10}{}\n", command.name, command.summary);
    fmt::print(to,
               "\n  bedshade COMMAND --help says more; bedshade --version names the version.\n"
               "  example: bedshade forecast my_tank.toml --out my_tank.h5\n");
}

po::options_description options_of(const Command& command) {
    po::options_description options("options");
    command.add_options(options);
    options.add_options()("traits", po::value<std::vector<std::string>>()->value_name("FILE"),
                          "lay a trait table of your own over the built-in one (may be repeated)")(
        "threads", po::value<int>()->value_name("N"), "processors to use (default: all allotted)")(
        "json", "print one JSON document on standard output and nothing else there")(
        "quiet", "print no progress and no hints")("help,h", "print this help");
    return options;
}

void print_help(const Command& command) {
    std::ostringstream options;
    options << options_of(command);
    fmt::print("{}\n\nusage: bedshade {} {} [OPTIONS]\n\n{}\n\n{}", command.summary, command.name,
               command.words, command.help, options.str());
}

int run(const Command& command, int argc, char** argv) {
    const auto visible = options_of(command);
    po::options_description all;
    all.add(visible).add_options()("words", po::value<std::vector<std::string>>());
    po::positional_options_description positions;
    positions.add("words", -1);
    po::variables_map values;
    const auto style =
        po::command_line_style::default_style & ~po::command_line_style::allow_guessing;
    po::store(
        po::command_line_parser(argc, argv).options(all).positional(positions).style(style).run(),
        values);
    if (values.count("help") > 0) {
        print_help(command);
        return kDone;
    }
    po::notify(values);
    auto words = values.count("words") > 0 ? values["words"].as<std::vector<std::string>>()
                                           : std::vector<std::string>{};
    return command.run(Arguments(std::move(values), std::move(words)));
}

int report_usage(const std::string& message, const char* command) {
    fmt::print(stderr, "bedshade: {}\n  bedshade {}--help says what is allowed\n", message,
               command == nullptr ? "" : fmt::format("{} ", command));
    return kBadInput;
}

int run_reporting(const Command& command, int argc, char** argv) {
    try {
        const int code = run(command, argc, argv);
        if (std::fflush(stdout) != 0) throw std::runtime_error("cannot write standard output");
        return code;
    } catch (const UsageError& error) {
        return report_usage(error.what(), command.name);
    } catch (const po::error& error) {
        return report_usage(printable(error.what()), command.name);
    } catch (const InputError& error) {
        fmt::print(stderr, "{}", error.what());
        return kBadInput;
    } catch (const OutputError& error) {
        fmt::print(stderr, "bedshade: {}\n", error.what());
        return kBadInput;
    } catch (const TrajectoryError& error) {
        fmt::print(stderr, "bedshade: {}\n", error.what());
        return kBadInput;
    } catch (const std::bad_alloc&) {
        fmt::print(stderr, "bedshade: out of memory; nothing was written\n");
    } catch (const std::exception& error) {
        fmt::print(stderr, "bedshade: {}\n", error.what());
    }
    return kFailed;
}

std::vector<std::string> command_names() {
    std::vector<std::string> names;
    for (const Command& command : commands()) names.emplace_back(command.name);
    return names;
}

int dispatch(int argc, char** argv) {
    if (argc < 2) {
        print_overview(stderr);
        return kBadInput;
    }
    const std::string word = argv[1];
    if (word == "--help" || word == "-h" || word == "help") {
        print_overview(stdout);
        return kDone;
    }
    if (word == "--version") {
        fmt::print("{}", version_text());
        return kDone;
    }
    const auto found = std::find_if(commands().begin(), commands().end(),
                                    [&](const Command& c) { return word == c.name; });
    if (found != commands().end()) return run_reporting(*found, argc - 1, argv + 1);
    const std::string near = nearest_name(word, command_names());
    return report_usage(fmt::format("'{}' is no command{}", printable(word),
                                    near.empty() ? "" : fmt::format("; did you mean '{}'?", near)),
                        nullptr);
}

/// Flow fields outlast the program where there is a folder for them.
void keep_flow_fields() {
    const auto folder = cache_folder();
    if (!folder.empty())
        process_flow_store().set_shelf(std::make_shared<FlowFolder>(folder / "flow"));
}

/// A library that throws where nobody can catch (the ray tracer's threads, when none can be made)
/// ends the program here: in one line, and without a core file.
[[noreturn]] void give_up() {
    try {
        if (const auto thrown = std::current_exception()) std::rethrow_exception(thrown);
        std::fprintf(stderr, "bedshade: a library gave up\n");
    } catch (const std::exception& error) {
        std::fprintf(stderr, "bedshade: a library gave up: %s\n", error.what());
    } catch (...) {
        std::fprintf(stderr, "bedshade: a library gave up\n");
    }
    std::_Exit(kFailed);
}

}  // namespace

int main(int argc, char** argv) {
    std::set_terminate(give_up);
    try {
        keep_flow_fields();
        return dispatch(argc, argv);
    } catch (const std::exception& error) {
        std::fprintf(stderr, "bedshade: %s\n", error.what());
        return kFailed;
    }
}
