#include "tools/bedshade/arguments.h"

#include <fmt/format.h>

#include "sim/base/pool.h"
#include "sim/base/text.h"

namespace bedshade {

const std::vector<Command>& commands() {
    static const std::vector<Command> all = {
        // In the order help lists them; one a line, so that two new ones seldom meet.
        // clang-format off
        kNewCommand,
        kCheckCommand,
        kLightCommand,
        kForecastCommand,
        kCompareCommand,
        kFitCommand,
        kPlaceCommand,
        kTrimCommand,
        kArrangeCommand,
        kBatchCommand,
        kGatherCommand,
        kPictureCommand,
        kReplayCommand,
        kExportCommand,
        kDescribeCommand,
        kRerunCommand,
        kReferenceCommand,
        kTraitsCommand,
        // clang-format on
    };
    return all;
}

const std::string& Arguments::only_word(const char* what) const {
    if (words_.empty()) throw UsageError(fmt::format("{} is missing", what));
    if (words_.size() > 1)
        throw UsageError(
            fmt::format("one {} is allowed; found '{}' too", what, escape_control(words_[1])));
    return words_.front();
}

int Arguments::threads() const {
    constexpr int kMostThreads = 256;
    const auto requested = maybe<int>("threads");
    if (!requested) return allotted_processors();
    if (*requested < 1 || *requested > kMostThreads)
        throw UsageError(
            fmt::format("--threads is {}; allowed: 1 to {}", *requested, kMostThreads));
    return *requested;
}

LayoutOptions Arguments::layout_options() const {
    LayoutOptions options;
    if (has("traits"))
        for (const auto& file : value<std::vector<std::string>>("traits"))
            options.trait_files.emplace_back(file);
    return options;
}

}  // namespace bedshade
