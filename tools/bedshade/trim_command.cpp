// bedshade trim: the fewest and latest cuts that keep the bed clear.
#include <fmt/format.h>

#include "sim/base/pool.h"
#include "sim/report/report.h"
#include "sim/run/flow_cache.h"
#include "sim/trim/trim_report.h"

#include "tools/bedshade/advice_options.h"
#include "tools/bedshade/interrupt.h"
#include "tools/bedshade/option_values.h"
#include "tools/bedshade/prepare.h"
#include "tools/bedshade/run_options.h"
#include "tools/bedshade/terminal.h"

namespace bedshade {
namespace {

constexpr int kForecasts = 200;

TrimOptions trim_options(const Arguments& arguments, const Prepared& prepared) {
    TrimOptions options;
    options.checkpoint = prepared.file.checkpoint;
    options.seed = seed_of(arguments, options.checkpoint.get());
    options.output_scale = prepared.calibration.output_scale;
    options.members = members_of(arguments);
    options.fresh = whole_within(arguments, "fresh", 1, 1000);
    options.aim.confidence = number_within(arguments, "confidence", 0.0, 1.0);
    options.aim.smallest = number_within(arguments, "smallest", 0.05, 1.0);
    return options;
}

int budget(const Arguments& arguments, const TrimOptions& options) {
    const int forecasts = whole_within(arguments, "forecasts", 1, 100000);
    const double least = 2.0 + work_of_comparison(options);
    if (forecasts < least)
        throw UsageError(
            fmt::format("--forecasts is {}; {} new runs, each with the plan, without and with "
                        "quarterly cuts, and the smallest search need {:.0f}",
                        forecasts, options.fresh, least));
    return forecasts;
}

void report(const Prepared& prepared, const TrimOptions& options, const TrimAdvice& advice,
            double fragment_m, const AdviceFiles& files, const Arguments& arguments) {
    const Layout& layout = prepared.layout();
    if (arguments.json()) {
        fmt::print("{}", trim_json(layout, options, advice, fragment_m, files.names(),
                                   warning_sentences(prepared.file.warnings)));
        return;
    }
    fmt::print("{}\n", lamp_output_text(layout, prepared.calibration));
    fmt::print("{}", trim_text(layout, options, advice, fragment_m));
    if (!advice.plan.cuts.empty())
        fmt::print("\nTo paste into the layout:\n\n{}", trim_change(layout, advice));
    fmt::print(
        "\n{}  A cut skeleton is sharp: wear gloves and eye protection; keep cuttings and tools "
        "out of kitchens.\n",
        cautions_text(layout));
    fmt::print("{}", files.text());
}

int run(const Arguments& arguments) {
    catch_interrupts();
    const AdviceFiles files = checked_files(arguments);
    const double fragment_m = length_within(arguments, "fragment", 0.002, 1.0);
    Prepared prepared = prepare(arguments);
    set_months(prepared.file.layout, arguments);
    const TrimOptions options = trim_options(arguments, prepared);
    const int forecasts = budget(arguments, options);
    Pool pool(arguments.threads());
    // Solved once, on all threads, before forecasts run side by side on one thread each.
    process_flow_cache().flow_of(prepared.layout(), pool.parallel_for());
    ProgressBar bar("trim", arguments.quiet());
    ResultCache cache = cache_of(prepared, "trim");
    const auto go_on = [&](double done) {
        bar.show(done / forecasts, fmt::format("{:.0f} of at most {} forecasts", done, forecasts));
        return !interrupted();
    };
    RunBudget work(forecasts, pool.parallel_for(), go_on, &cache);
    const TrimAdvice advice = advise_cuts(prepared.layout(), options, work);
    if (!advice.finished) return report_interrupted();
    write_files(files, arguments, prepared, trim_change(prepared.layout(), advice));
    report(prepared, options, advice, fragment_m, files, arguments);
    return kDone;
}

}  // namespace

const Command kTrimCommand = {
    "trim",
    "LAYOUT",
    "the fewest and latest cuts that prevent the flags that cutting can prevent",
    "Searches for cuts that keep the bed's corals from being starved, stung, overgrown or grown "
    "out of place by\n"
    "what grows, in the requested fraction of runs, and tests them in new runs against no cuts and "
    "cutting\n"
    "all corals every three months. Flags that no cut prevents are listed and left alone.\n"
    "  bedshade trim my_tank.toml --out my_cuts.toml --layout my_plan.toml\n"
    "  bedshade compare my_tank.toml my_cuts.toml\n"
    "  bedshade forecast my_plan.toml --members 64",
    [](po::options_description& options) {
        add_run_options(options);
        add_advice_options(options, kForecasts);
        options.add_options()("members", po::value<int>()->default_value(56)->value_name("N"),
                              "most planning runs, with growth, light and sand sampled from their "
                              "uncertainty; the first is the best estimate")(
            "fresh", po::value<int>()->default_value(24)->value_name("N"),
            "new runs it is then tested in, of the next seed")(
            "confidence", po::value<double>()->default_value(0.9, "0.9")->value_name("P"),
            "fraction of runs that the plan must keep clear")(
            "smallest", po::value<double>()->default_value(0.5, "0.5")->value_name("SHARE"),
            "least a cut leaves, as a fraction of the first diameter")(
            "fragment", po::value<std::string>()->default_value("3 cm")->value_name("L"),
            "side of the square of coral that is counted as one fragment");
    },
    run,
    kTakesAll};

}  // namespace bedshade
