// The program: finds the command, parses its options, runs it, and turns errors into exit codes.
#include <cerrno>
#include <cstdio>
#include <cstdlib>
#include <exception>
#include <fmt/format.h>
#include <hdf5.h>
#include <memory>
#include <new>
#include <string>
#include <string_view>
#include <system_error>

#include "sim/base/atomic_file.h"
#include "sim/base/text.h"
#include "sim/run/flow_cache_folder.h"
#include "sim/trajectory/trajectory.h"

#include "tools/bedshade/arguments.h"
#include "tools/bedshade/cache_folder.h"
#include "tools/bedshade/completion.h"
#include "tools/bedshade/help_text.h"
#include "tools/bedshade/man_page.h"
#include "tools/bedshade/option_table.h"
#include "tools/bedshade/terminal.h"
#include "tools/bedshade/version.h"

namespace {

using namespace bedshade;

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
        fmt::print("{}", help_text(command));
        return kDone;
    }
    po::notify(values);
    auto words = values.count("words") > 0 ? values["words"].as<std::vector<std::string>>()
                                           : std::vector<std::string>{};
    return command.run(Arguments(std::move(values), std::move(words)));
}

int report_usage(const std::string& message, const char* command) {
    print_message("bedshade: {}\n  bedshade {}--help shows what is allowed\n", message,
                  command == nullptr ? "" : fmt::format("{} ", command));
    return kBadInput;
}

/// `text` with its control characters escaped, its line ends kept: a message may hold a path, or
/// words of a file, that would drive the terminal.
std::string printable_lines(std::string_view text) {
    std::string out;
    for (auto end = text.find('\n'); end != text.npos; end = text.find('\n')) {
        out += escape_control(text.substr(0, end)) + '\n';
        text.remove_prefix(end + 1);
    }
    return out + escape_control(text);
}

/// fmt does not say what it was that it could not write to.
std::string reason_of(const std::exception& error) {
    const auto* system = dynamic_cast<const std::system_error*>(&error);
    return system != nullptr && std::ferror(stdout) != 0
               ? "cannot write standard output: " + system->code().message()
               : error.what();
}

int report(const std::exception& error, ExitCode code) {
    print_message("bedshade: {}\n", printable_lines(reason_of(error)));
    return code;
}

std::string suggestion(const std::string& near) {
    return near.empty() ? near : fmt::format("; did you mean '{}'?", near);
}

int run_reporting(const Command& command, int argc, char** argv) {
    try {
        return run(command, argc, argv);
    } catch (const UsageError& error) {
        return report_usage(error.what(), command.name);
    } catch (const po::unknown_option& error) {
        const std::string near = nearest_option(error.get_option_name(), command);
        return report_usage(fmt::format("{} has no option '{}'{}", command.name,
                                        escape_control(error.get_option_name()), suggestion(near)),
                            command.name);
    } catch (const po::invalid_option_value& error) {
        const std::string option = error.get_option_name();
        return report_usage(fmt::format("{}; allowed: {}", escape_control(error.what()),
                                        allowed_after(option.substr(2), command)),
                            command.name);
    } catch (const po::error& error) {
        return report_usage(escape_control(error.what()), command.name);
    } catch (const InputError& error) {
        print_message("{}", error.what());
        return kBadInput;
    } catch (const OutputError& error) {
        return report(error, kBadInput);
    } catch (const TrajectoryError& error) {
        return report(error, kBadInput);
    } catch (const std::bad_alloc&) {
        print_message("bedshade: out of memory; nothing was written\n");
        return kFailed;
    } catch (const std::exception& error) {
        return report(error, kFailed);
    }
}

int unknown_command(const std::string& word) {
    return report_usage(fmt::format("unknown command '{}'{}", escape_control(word),
                                    suggestion(nearest_command(word))),
                        nullptr);
}

/// `bedshade help`, and `bedshade help COMMAND`.
int help(int argc, char** argv) {
    if (argc < 3) {
        fmt::print("{}", overview_text());
        return kDone;
    }
    const Command* command = find_command(argv[2]);
    if (command == nullptr) return unknown_command(argv[2]);
    fmt::print("{}", help_text(*command));
    return kDone;
}

int print_completion(int argc, char** argv) {
    const std::string shell = argc > 2 ? argv[2] : "";
    if (shell != "bash" && shell != "zsh")
        return report_usage(
            fmt::format("--completion is '{}'; allowed: bash, zsh", escape_control(shell)),
            nullptr);
    fmt::print("{}", shell == "bash" ? bash_completion() : zsh_completion());
    return kDone;
}

int dispatch(int argc, char** argv) {
    if (argc < 2) {
        print_message("{}", overview_text());
        return kBadInput;
    }
    const std::string word = argv[1];
    if (word == "--help" || word == "-h" || word == "help") return help(argc, argv);
    if (word == "--completion") return print_completion(argc, argv);
    if (word == "--version" || word == "--man") {
        fmt::print("{}", word == "--man" ? man_page() : version_text());
        return kDone;
    }
    const Command* command = find_command(word);
    return command == nullptr ? unknown_command(word) : run_reporting(*command, argc - 1, argv + 1);
}

/// Flow fields outlast the program where there is a folder for them.
void keep_flow_fields() {
    const auto folder = cache_folder();
    if (!folder.empty())
        process_flow_cache().set_storage(std::make_shared<FlowCacheFolder>(folder / "flow"));
}

/// A library that throws where nobody can catch (the ray tracer's threads, when none can be made)
/// ends the program here: in one line, and without a core file.
[[noreturn]] void give_up() {
    try {
        if (const auto resuspended = std::current_exception()) std::rethrow_exception(resuspended);
        std::fprintf(stderr, "bedshade: a library failed\n");
    } catch (const std::exception& error) {
        std::fprintf(stderr, "bedshade: a library failed: %s\n", error.what());
    } catch (...) {
        std::fprintf(stderr, "bedshade: a library failed\n");
    }
    std::_Exit(kFailed);
}

}  // namespace

int main(int argc, char** argv) {
    std::set_terminate(give_up);
    // HDF5 prints at exit what it could not close of a damaged file.
    H5Eset_auto2(H5E_DEFAULT, nullptr, nullptr);
    try {
        keep_flow_fields();
        const int code = dispatch(argc, argv);
        // A closed terminal can show no message.
        if (std::fflush(stdout) != 0 && code != kInterrupted)
            throw std::system_error(errno, std::generic_category());
        return code;
    } catch (const std::exception& error) {
        return report(error, kFailed);
    }
}
