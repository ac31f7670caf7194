// bedshade batch: many layouts, or all that a study makes of one, with nothing lost on the way.
#include <algorithm>
#include <cstdlib>
#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include "sim/base/plain_text.h"
#include "sim/base/pool.h"
#include "sim/base/text.h"
#include "sim/batch/batch_run.h"

#include "tools/bedshade/arguments.h"
#include "tools/bedshade/batch_forecast.h"
#include "tools/bedshade/interrupt.h"
#include "tools/bedshade/option_values.h"
#include "tools/bedshade/run_options.h"
#include "tools/bedshade/terminal.h"

namespace bedshade {
namespace {

namespace fs = std::filesystem;

std::vector<fs::path> layouts_in(const fs::path& folder) {
    std::vector<fs::path> files;
    for (const auto& entry : fs::directory_iterator(folder))
        if (entry.is_regular_file() && entry.path().extension() == ".toml")
            files.push_back(entry.path());
    std::sort(files.begin(), files.end());
    if (files.empty())
        throw UsageError(
            fmt::format("folder '{}' has no .toml file", escape_control(folder.string())));
    return files;
}

/// A study of whole layouts, as they were named.
Study study_of_layouts(const std::vector<std::string>& words) {
    Study study;
    for (const std::string& word : words) {
        std::error_code error;
        if (!fs::exists(word, error))
            throw UsageError(fmt::format("there is no file '{}'", escape_control(word)));
        if (fs::is_directory(word, error))
            for (const fs::path& file : layouts_in(word))
                study.layouts.push_back({file.filename().string(), file});
        else
            study.layouts.push_back({fs::path(word).filename().string(), word});
    }
    return study;
}

Study is_study_requested(const Arguments& arguments) {
    const auto& words = arguments.words();
    if (words.empty()) throw UsageError("a study file, layouts or a folder of them is missing");
    for (const std::string& word : words)
        if (is_study(word) && words.size() > 1)
            throw UsageError(
                fmt::format("'{}' is a study; one study is run at a time", escape_control(word)));
    return is_study(words[0]) ? read_study(words[0]) : study_of_layouts(words);
}

void apply_options(const Arguments& arguments, Study& study) {
    if (const auto months = maybe_whole_within(arguments, "months", 1, kMostMonths))
        study.months = *months;
    if (const auto members = maybe_whole_within(arguments, "members", 1, kMostMembers))
        study.members = *members;
    if (const auto seed = arguments.maybe<Count>("seed")) study.seed = seed->value;
}

int jobs_of(const Arguments& arguments) {
    constexpr int kMostJobs = 256;
    const auto jobs = maybe_whole_within(arguments, "jobs", 1, kMostJobs);
    return jobs ? *jobs : arguments.threads();
}

Shard shard_of(const Arguments& arguments) {
    const auto text = arguments.maybe<std::string>("shard");
    if (!text) return {};
    try {
        if (*text != "auto") return parse_shard(*text);
        const FoundShard found = shard_from_environment([](const char* name) {
            const char* value = std::getenv(name);
            return value ? std::optional<std::string>(value) : std::nullopt;
        });
        if (!arguments.quiet())
            print_message("shard {} of {}, by {}\n", found.shard.index, found.shard.count,
                          found.from);
        return found.shard;
    } catch (const ShardError& error) {
        throw UsageError(fmt::format("--shard: {}", error.what()));
    }
}

/// "top 5" or "top5": how many; nothing for another word.
std::optional<std::size_t> top_in(const std::string& word) {
    constexpr unsigned long kMost = 100'000;
    if (word.rfind("top", 0) != 0) return std::nullopt;
    const std::string number = word.substr(word.find_first_not_of(' ', 3) == std::string::npos
                                               ? word.size()
                                               : word.find_first_not_of(' ', 3));
    const bool digits = !number.empty() && number.size() < 7 &&
                        number.find_first_not_of("0123456789") == std::string::npos;
    const unsigned long count = digits ? std::stoul(number) : 0;
    return count >= 1 && count <= kMost ? std::optional<std::size_t>(count) : std::nullopt;
}

void set_keep(const Arguments& arguments, BatchOptions& options) {
    const auto word = arguments.value<std::string>("keep");
    const auto top = top_in(word);
    if (top) {
        options.keep = Keep::top;
        options.top = *top;
    } else if (word == "flagged") {
        options.keep = Keep::flagged;
    } else if (word == "all") {
        options.keep = Keep::all;
    } else if (word != "none") {
        throw UsageError(fmt::format("--keep is '{}'; allowed: none, flagged, all, \"top N\"",
                                     escape_control(word)));
    }
}

std::string plural(std::uint64_t count, const char* one) {
    return fmt::format("{} {}{}", count, one, count == 1 ? "" : "s");
}

void print_tally(const BatchTally& tally, const std::string& folder) {
    fmt::print(
        "{} of {} done: {} run now ({} with a flag), {} done before, {} refused, {} failed.\n",
        tally.completed(), plural(tally.runs, "run"), tally.done, tally.flagged, tally.found,
        tally.refused, tally.failed);
    for (const RunFailure& failure : tally.failures)
        fmt::print("  {}: {}\n", escape_control(failure.run), escape_control(failure.message));
    const std::uint64_t unfinished = tally.refused + tally.failed;
    if (unfinished > tally.failures.size())
        fmt::print("  and {} more, in {}/journal-*.jsonl\n", unfinished - tally.failures.size(),
                   escape_control(folder));
}

void print_hint(const Shard& shard, const std::string& folder) {
    if (shard.whole())
        fmt::print("\nbedshade gather {0} --out {0}.h5 ranks them.\n", escape_control(folder));
    else
        fmt::print("\nbedshade gather ranks them, with the folders of the other shards.\n");
}

void print_json(const BatchTally& tally, const std::string& folder) {
    auto failures = nlohmann::ordered_json::array();
    for (const RunFailure& failure : tally.failures)
        failures.push_back({{"run", failure.run}, {"message", failure.message}});
    const nlohmann::ordered_json document = {{"format", 1},
                                             {"folder", folder},
                                             {"runs", tally.runs},
                                             {"done", tally.done},
                                             {"flagged", tally.flagged},
                                             {"found", tally.found},
                                             {"refused", tally.refused},
                                             {"failed", tally.failed},
                                             {"finished", tally.finished},
                                             {"failures", failures}};
    fmt::print("{}", json_text(document));
}

int apply_actions(Plan& plan, const Arguments& arguments, const BatchOptions& options) {
    const auto folder_name = arguments.value<std::string>("out");
    BatchFolder folder(folder_name);
    ProgressBar bar("batch", arguments.quiet());
    const BatchTally tally = run_batch(
        plan, folder, options, [] { return !interrupted(); },
        [&](const BatchTally& now) {
            bar.show(static_cast<double>(now.completed()) /
                         static_cast<double>(std::max<std::uint64_t>(1, now.runs)),
                     fmt::format("{} of {}", now.completed(), plural(now.runs, "run")));
        });
    if (arguments.json())
        print_json(tally, folder_name);
    else
        print_tally(tally, folder_name);
    if (tally.finished && !arguments.json() && !arguments.quiet())
        print_hint(options.shard, folder_name);
    if (!tally.finished) {
        print_message("bedshade: interrupted; the same command continues from here\n");
        return kInterrupted;
    }
    const bool nothing_done = tally.runs > 0 && tally.refused == tally.runs;
    return tally.failed > 0 || nothing_done ? kFailed : kDone;
}

int run(const Arguments& arguments) {
    catch_interrupts();
    Study study = is_study_requested(arguments);
    apply_options(arguments, study);
    BatchOptions options{jobs_of(arguments), shard_of(arguments)};
    set_keep(arguments, options);
    const bool dry = arguments.has("dry-run");
    if (!dry && !arguments.has("out")) throw UsageError("--out DIR is missing");
    Plan plan(std::move(study), arguments.layout_options());
    plan.check();
    if (!dry) return apply_actions(plan, arguments, options);
    const BatchForecast estimate =
        forecast_batch(plan, options, arguments.maybe<std::string>("out"));
    if (interrupted()) {
        print_message("bedshade: interrupted\n");
        return kInterrupted;
    }
    fmt::print("{}",
               arguments.json() ? batch_forecast_json(estimate) : batch_forecast_text(estimate));
    return kDone;
}

}  // namespace

const Command kBatchCommand = {
    "batch",
    "STUDY|LAYOUT... --out DIR",
    "many layouts, or all variants of a study",
    "Runs every layout of a study (notebooks-free-docs/batch.md), of a list or of a folder, one "
    "per\n"
    "processor, and stores the results in DIR. The same command again continues a stopped\n"
    "batch. `bedshade gather DIR` ranks them.\n"
    "  bedshade batch study.toml --dry-run\n  bedshade batch study.toml --out night\n"
    "  bedshade batch study.toml --out night --shard 2/4",
    [](po::options_description& options) {
        options.add_options()("out", po::value<std::string>()->value_name("DIR"),
                              "folder of the batch; made where there is none")(
            "jobs", po::value<int>()->value_name("J"),
            "runs at a time (default: --threads); results do not depend on it")(
            "shard", po::value<std::string>()->value_name("I/N"),
            "only every N-th run, from the I-th; auto: from a cluster's job array")(
            "keep", po::value<std::string>()->default_value("none")->value_name("WHICH"),
            "trajectories to keep in DIR/runs: none, flagged, all, or \"top N\" (of each shard)")(
            "dry-run",
            "report the number of runs, time and disk space; run only one, write nothing")(
            "months", po::value<int>()->value_name("M"),
            "horizon (default: the study's, or the layouts' own)")(
            "members", po::value<int>()->value_name("N"),
            "ensemble members of each layout (default: the study's, or 1)")(
            "seed", po::value<Count>()->value_name("S"),
            "seed of the random numbers (default: the study's, or 1)");
    },
    run,
    kTakesAll};

}  // namespace bedshade
