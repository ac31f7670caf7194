// bedshade compare: the same season twice, with and without a change.
#include <algorithm>
#include <cstdio>
#include <fmt/format.h>

#include "sim/output/comparison_report.h"
#include "sim/output/report.h"
#include "sim/season/pool.h"
#include "sim/verdict/season_record.h"

#include "tools/bedshade/interrupt.h"
#include "tools/bedshade/prepare.h"
#include "tools/bedshade/season_options.h"
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

/// Runs one season; nothing when it was interrupted.
std::optional<Arm> season_of(const Layout& layout, const ForecastOptions& options,
                             const ParallelFor& parallel, ProgressBar& bar, double done_before) {
    Forecast forecast(layout, options, parallel);
    SeasonMeans means;
    const auto go_on = [&](double done) {
        const double all = done_before + 0.5 * done;
        bar.show(all, fmt::format("{:.0f} %", 100.0 * all));
        return !interrupted();
    };
    const SeasonRecord record = record_season(layout, forecast, 0, go_on, {&means});
    if (!record.finished) return {};
    return Arm{&layout, record.flags, means.colonies(), means.bed(), forecast.grid()};
}

void report(const Pair& pair, const Calibration& calibration, const Arm& before, const Arm& after,
            const Arguments& arguments) {
    const Comparison difference = compared(before, after);
    if (arguments.json()) {
        fmt::print("{}", comparison_json(before, after, difference, seed_of(arguments),
                                         warning_sentences(warnings_of(pair))));
        return;
    }
    fmt::print("{}\n", lamp_output_text(pair.before.layout, calibration));
    fmt::print("{}", comparison_text(before, after, difference));
    if (!difference.same()) fmt::print("\n{}", cautions_text(pair.after.layout));
}

int run(const Arguments& arguments) {
    catch_interrupts();
    const Pair pair = read_pair(arguments);
    if (!arguments.json() && !arguments.quiet())
        for (const Diagnostic& warning : warnings_of(pair))
            fmt::print(stderr, "{}", render(warning));
    // The meter was read in the tank as it is: what it says of the lamps holds for both seasons.
    const Calibration calibration = calibrate(pair.before.layout);
    const ForecastOptions options{seed_of(arguments), 0, calibration.output_scale};
    Pool pool(arguments.threads());
    ProgressBar bar("compare", arguments.quiet());
    const auto before = season_of(pair.before.layout, options, pool.parallel_for(), bar, 0.0);
    const auto after = before ? season_of(pair.after.layout, options, pool.parallel_for(), bar, 0.5)
                              : std::nullopt;
    if (!after) {
        fmt::print(stderr, "bedshade: interrupted\n");
        return kInterrupted;
    }
    report(pair, calibration, *before, *after, arguments);
    return kDone;
}

}  // namespace

const Command kCompareCommand = {
    "compare",
    "LAYOUT CHANGE.toml",
    "the same season twice, with and without a change",
    "A change file has the layout's own sections, and only what is otherwise: what has a name is "
    "changed by\n"
    "it, added, or taken away (remove = true). Both seasons have the same random numbers; only "
    "what "
    "differs\n"
    "is told.\n"
    "  bedshade compare my_tank.toml pump_turned_up.toml",
    add_season_options,
    run};

}  // namespace bedshade
