// The command line, parsed and checked.
#pragma once

#include <boost/program_options.hpp>
#include <filesystem>
#include <optional>
#include <stdexcept>
#include <string>
#include <vector>

#include "sim/input/layout/layout_reader.h"

namespace bedshade {

namespace po = boost::program_options;

/// Exit codes of every command.
enum ExitCode : int { kDone = 0, kFailed = 1, kBadInput = 2, kFlagged = 3, kInterrupted = 130 };

/// The command line cannot be carried out; printed with a hint at --help, exit 2.
class UsageError : public std::runtime_error {
  public:
    using std::runtime_error::runtime_error;
};

class Arguments {
  public:
    Arguments(po::variables_map values, std::vector<std::string> words)
        : values_(std::move(values)), words_(std::move(words)) {}

    /// The words that are no options: layouts, taxa.
    const std::vector<std::string>& words() const { return words_; }
    /// The one word a command takes; throws UsageError naming it (`what`) when there is not just
    /// one.
    const std::string& only_word(const char* what) const;

    /// Whether an option has its default value.
    bool defaulted(const char* name) const { return values_[name].defaulted(); }
    bool has(const char* option) const { return values_.count(option) > 0; }
    bool quiet() const { return has("quiet"); }
    bool json() const { return has("json"); }
    int threads() const;
    LayoutOptions layout_options() const;

    template <class T>
    T value(const char* option) const {
        return values_[option].as<T>();
    }
    template <class T>
    std::optional<T> maybe(const char* option) const {
        return has(option) ? std::optional<T>(value<T>(option)) : std::nullopt;
    }

  private:
    po::variables_map values_;
    std::vector<std::string> words_;
};

/// Options that several commands share; each command selects its own.
enum SharedOption : unsigned {
    kTakesTraits = 1,
    kTakesThreads = 2,
    kTakesJson = 4,
    kTakesQuiet = 8,
    /// Options of all commands that work on a layout.
    kTakesAll = kTakesTraits | kTakesThreads | kTakesJson | kTakesQuiet,
};

/// One command: name, usage, summary, options and function.
struct Command {
    const char* name;
    const char* words;    ///< as shown in its usage line
    const char* summary;  ///< one line
    const char* help;     ///< a paragraph and an example
    void (*add_options)(po::options_description&);
    int (*run)(const Arguments&);
    unsigned takes;  ///< SharedOption bits
};

/// Every command of the program, in the order help lists them.
const std::vector<Command>& commands();

extern const Command kNewCommand;
extern const Command kCheckCommand;
extern const Command kLightCommand;
extern const Command kForecastCommand;
extern const Command kCompareCommand;
extern const Command kFitCommand;
extern const Command kPlaceCommand;
extern const Command kTrimCommand;
extern const Command kArrangeCommand;
extern const Command kBatchCommand;
extern const Command kGatherCommand;
extern const Command kPictureCommand;
extern const Command kReplayCommand;
extern const Command kExportCommand;
extern const Command kDescribeCommand;
extern const Command kRerunCommand;
extern const Command kReferenceCommand;
extern const Command kTraitsCommand;

}  // namespace bedshade
