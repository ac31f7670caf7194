// bedshade compare: the same run twice, with and without a change.
#include <algorithm>
#include <atomic>
#include <fmt/format.h>
#include <utility>

#include "sim/base/pool.h"
#include "sim/report/comparison_report.h"
#include "sim/report/report.h"
#include "sim/verdict/evaluated_run.h"

#include "tools/bedshade/interrupt.h"
#include "tools/bedshade/prepare.h"
#include "tools/bedshade/run_options.h"
#include "tools/bedshade/runs_progress.h"
#include "tools/bedshade/terminal.h"

namespace bedshade {
namespace {

/// The layout without and with the change.
struct Pair {
    LayoutFile before, after;
};

Pair read_pair(const Arguments& arguments) {
    const auto& words = arguments.words();
    if (words.size() != 2)
        throw UsageError(fmt::format("a layout file and a change file are needed; found {} file{}",
                                     words.size(), words.size() == 1 ? "" : "s"));
    LayoutOptions options = arguments.layout_options();
    LayoutFile before = read_layout(words[0], options);
    options.changes = {words[1]};
    Pair pair{std::move(before), read_layout(words[0], options)};
    for (LayoutFile* file : {&pair.before, &pair.after}) set_months(file->layout, arguments);
    return pair;
}

/// Warnings of both, each once.
std::vector<Diagnostic> warnings_of(const Pair& pair) {
    std::vector<Diagnostic> all = pair.before.warnings;
    const auto is_known = [&](const Diagnostic& warning) {
        return std::any_of(all.begin(), all.end(), [&](const Diagnostic& w) {
            return w.file == warning.file && w.what == warning.what;
        });
    };
    for (const Diagnostic& warning : pair.after.warnings)
        if (!is_known(warning)) all.push_back(warning);
    return all;
}

/// Runs one layout; nothing when it was interrupted.
std::optional<Arm> arm_of(const LayoutFile& file, RunOptions options, const ParallelFor& parallel,
                          RunsProgress& bar) {
    const Layout& layout = file.layout;
    options.checkpoint = file.checkpoint;
    Forecast forecast(layout, options, parallel);
    RunMeans means;
    const RunRecord record = record_run(layout, forecast, 0, bar.next_run(), {&means});
    if (!record.finished) return {};
    return Arm{&layout, record.flags, means.colonies(), means.bed(), forecast.grid()};
}

/// Members 0 (the two arms) and on, each pair on one thread; nothing when it was interrupted.
std::optional<PairedRuns> run_pairs(const Pair& pair, const RunOptions& options, int members,
                                    const Arm& before, const Arm& after,
                                    const ParallelFor& parallel, RunsProgress& bar) {
    std::vector<MemberPair> pairs(static_cast<std::size_t>(members));
    pairs[0] = {{before.flags, before.colonies}, {after.flags, after.colonies}};
    std::atomic<bool> finished = true;
    parallel(pairs.size() - 1, [&](std::size_t begin, std::size_t end) {
        for (std::size_t i = begin + 1; i <= end; ++i) {
            RunOptions own = options;
            own.member = static_cast<int>(i);
            const auto member_run = [&](const LayoutFile& file) {
                own.checkpoint = file.checkpoint;
                EvaluatedRun judged =
                    evaluate_member(file.layout, own, run_serially, bar.next_run());
                if (!judged.finished) finished = false;
                return MemberRun{std::move(judged.flags), std::move(judged.colonies)};
            };
            pairs[i] = {member_run(pair.before), member_run(pair.after)};
        }
    });
    if (!finished) return {};
    return paired(pair.before.layout, pair.after.layout, pairs);
}

void report(const Pair& pair, const Calibration& calibration, const Arm& before, const Arm& after,
            const PairedRuns& members, const Arguments& arguments) {
    const bool many = members.runs > 1;
    const Comparison difference = compared(before, after);
    if (arguments.json()) {
        fmt::print(
            "{}", comparison_json(before, after, difference,
                                  seed_of(arguments, pair.before.checkpoint.get()),
                                  warning_sentences(warnings_of(pair)), many ? &members : nullptr));
        return;
    }
    fmt::print("{}\n", lamp_output_text(pair.before.layout, calibration));
    fmt::print("{}", comparison_text(before, after, difference));
    if (many) fmt::print("\n{}", paired_text(members));
    if (!difference.same() || !members.same()) fmt::print("\n{}", cautions_text(pair.after.layout));
}

int run(const Arguments& arguments) {
    catch_interrupts();
    const Pair pair = read_pair(arguments);
    if (!arguments.json() && !arguments.quiet())
        for (const Diagnostic& warning : warnings_of(pair)) print_message("{}", render(warning));
    // The meter was read in the tank as it is: what it says of the lamps holds for both seasons.
    const Calibration calibration = calibrate(pair.before.layout);
    const RunOptions options{seed_of(arguments, pair.before.checkpoint.get()), 0,
                             calibration.output_scale};
    const int members = members_of(arguments);
    Pool pool(arguments.threads());
    RunsProgress bar("compare", 2 * members, arguments.quiet());
    const ParallelFor parallel = pool.parallel_for();
    const auto before = arm_of(pair.before, options, parallel, bar);
    const auto after = before ? arm_of(pair.after, options, parallel, bar) : std::nullopt;
    const auto all =
        after ? run_pairs(pair, options, members, *before, *after, parallel, bar) : std::nullopt;
    if (!all) {
        print_message("bedshade: interrupted\n");
        return kInterrupted;
    }
    report(pair, calibration, *before, *after, *all, arguments);
    return kDone;
}

}  // namespace

const Command kCompareCommand = {"compare",
                                 "LAYOUT CHANGE.toml",
                                 "the same run twice, with and without a change",
                                 "A change file has the layout's own sections, and only what "
                                 "differs: entries with a name are changed by\n"
                                 "it, added, or removed (remove = true). Both runs have the same "
                                 "random numbers; only differences\n"
                                 "are shown.\n"
                                 "  bedshade compare my_tank.toml pump_turned_up.toml\n"
                                 "  bedshade compare my_tank.toml pump_turned_up.toml --members 16",
                                 [](po::options_description& options) {
                                     add_run_options(options);
                                     add_members_option(options);
                                 },
                                 run,
                                 kTakesAll};

}  // namespace bedshade
