// bedshade forecast: run a layout to its horizon, name what goes wrong, write the trajectory.
#include <algorithm>
#include <cstdio>
#include <fmt/format.h>
#include <iterator>
#include <optional>

#include "sim/output/flow_sample.h"
#include "sim/output/report.h"
#include "sim/output/trajectory_writer.h"
#include "sim/season/model_version.h"
#include "sim/season/pool.h"
#include "sim/verdict/chronicle.h"
#include "sim/verdict/watch.h"

#include "tools/bedshade/interrupt.h"
#include "tools/bedshade/months.h"
#include "tools/bedshade/prepare.h"
#include "tools/bedshade/run_files.h"
#include "tools/bedshade/terminal.h"

namespace bedshade {
namespace {

constexpr std::uint64_t kDefaultSeed = 1;

RunFacts run_facts(const Prepared& prepared, std::uint64_t seed) {
    RunFacts facts;
    facts.seed = seed;
    facts.program_version = kProgramVersion;
    facts.model_version = kModelVersion;
    facts.layout_text = prepared.file.text;
    facts.traits_text = prepared.file.traits_text;
    return facts;
}

struct Outcome {
    ForecastSummary summary;
    bool finished = false;
};

/// Runs the season past every sink; flags and events go into the trajectory at the end, however
/// that came.
Outcome run_forecast(const Prepared& prepared, Forecast& forecast, const Arguments& arguments,
                     TrajectoryWriter* trajectory) {
    Outcome outcome;
    outcome.summary.output_scale = prepared.calibration.output_scale;
    Watch watch(prepared.layout());
    Chronicle chronicle(prepared.layout());
    SummaryKeeper keeper(outcome.summary);
    std::vector<FrameSink*> sinks = {&watch, &chronicle, &keeper};
    if (trajectory != nullptr) sinks.push_back(trajectory);
    ProgressBar bar("forecast", arguments.quiet());
    const int months = prepared.layout().season.months;
    outcome.finished = forecast.run(sinks, [&](double done) {
        bar.show(done, fmt::format("month {} of {}", 1 + static_cast<int>(done * months), months));
        return !interrupted();
    });
    outcome.summary.flags = watch.flags();
    std::copy_if(chronicle.events().begin(), chronicle.events().end(),
                 std::back_inserter(outcome.summary.deeds), is_deed);
    if (trajectory != nullptr) {
        for (const Flag& flag : outcome.summary.flags) trajectory->add(flag);
        for (const EventRecord& event : chronicle.events()) trajectory->add(event);
        if (outcome.finished) trajectory->finish();
    }
    return outcome;
}

void report_files(const RunFiles& files, bool quiet) {
    if (files.out())
        fmt::print("\n{} holds the trajectory.\n", printable(*files.out()));
    else if (!quiet)
        fmt::print("\nAdd --out RUN.h5 to keep the trajectory.\n");
    if (files.page())
        fmt::print("{} shows it, month by month: open it in a browser.\n",
                   printable(*files.page()));
}

void report(const Prepared& prepared, const Outcome& outcome, const Arguments& arguments,
            std::uint64_t seed, const RunFiles& files) {
    const Layout& layout = prepared.layout();
    if (arguments.json()) {
        fmt::print("{}", forecast_json(layout, outcome.summary, seed, files.kept(),
                                       warning_sentences(prepared.file.warnings)));
        return;
    }
    fmt::print("{}\n", lamp_output_text(layout, prepared.calibration));
    fmt::print("{}", forecast_text(layout, outcome.summary, bold));
    fmt::print("\n{}", cautions_text(layout));
    report_files(files, arguments.quiet());
}

void report_interrupted(const RunFiles& files) {
    fmt::print(stderr, "bedshade: interrupted{}{}\n",
               files.out()
                   ? fmt::format("; {}.part holds what was finished", printable(*files.out()))
                   : "",
               files.page() ? "; no page was written" : "");
}

int run(const Arguments& arguments) {
    catch_interrupts();
    const RunFiles files(arguments);
    Prepared prepared = prepare(arguments);
    set_months(prepared.file.layout, arguments);
    const auto seed = arguments.value<std::uint64_t>("seed");
    Pool pool(arguments.threads());
    ForecastOptions options = prepared.forecast_options(seed);
    options.full_light = arguments.has("full");
    Forecast forecast(prepared.layout(), options, pool.parallel_for());
    std::optional<TrajectoryWriter> trajectory;
    if (const auto path = files.trajectory()) {
        const FlowSample flow = flow_sample(prepared.layout().tank, forecast.flow());
        trajectory.emplace(*path, prepared.layout(), forecast.grid(), run_facts(prepared, seed),
                           &flow);
    }
    const Outcome outcome =
        run_forecast(prepared, forecast, arguments, trajectory ? &*trajectory : nullptr);
    trajectory.reset();
    if (!outcome.finished) {
        report_interrupted(files);
        return kInterrupted;
    }
    files.write_page();
    report(prepared, outcome, arguments, seed, files);
    const bool flagged = !outcome.summary.flags.empty();
    return flagged && arguments.has("fail-on-flag") ? kFlagged : kDone;
}

}  // namespace

const Command kForecastCommand = {
    "forecast",
    "LAYOUT",
    "two years ahead: what grows, what it shades, what goes wrong and when",
    "Steps the layout through time and names, month by month, which coral is starved, buried, "
    "stung or\n"
    "overgrown, and by whom.\n"
    "  bedshade forecast my_tank.toml\n  bedshade forecast my_tank.toml --months 36 --out "
    "my_tank.h5",
    [](po::options_description& options) {
        add_months_option(options);
        options.add_options()(
            "seed", po::value<std::uint64_t>()->default_value(kDefaultSeed)->value_name("S"),
            "of the random numbers (when fish stir the sand)")(
            "out", po::value<std::string>()->value_name("RUN.h5"), "write the trajectory there")(
            "page", po::value<std::string>()->value_name("RUN.html"),
            "write the run as a page for a browser there")("force", "replace files that are there")(
            "full",
            "trace all light anew each step, slowly, to check the quick way by: the results are "
            "the same")("fail-on-flag", "exit with 3 when a flag was raised");
    },
    run};

}  // namespace bedshade
