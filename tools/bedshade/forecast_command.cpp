// bedshade forecast: run a layout to its horizon, name what goes wrong, write the trajectory.
#include <fmt/format.h>
#include <optional>

#include "sim/base/model_version.h"
#include "sim/base/pool.h"
#include "sim/base/text.h"
#include "sim/report/ensemble_text.h"
#include "sim/report/report.h"
#include "sim/trajectory/flow_sample.h"
#include "sim/trajectory/trajectory_writer.h"

#include "tools/bedshade/ensemble_run.h"
#include "tools/bedshade/interrupt.h"
#include "tools/bedshade/prepare.h"
#include "tools/bedshade/run_files.h"
#include "tools/bedshade/run_options.h"
#include "tools/bedshade/single_run.h"
#include "tools/bedshade/terminal.h"

namespace bedshade {
namespace {

RunProvenance run_provenance(const Prepared& prepared, std::uint64_t seed, int members) {
    return {seed,
            members,
            kProgramVersion,
            kModelVersion,
            prepared.file.text,
            prepared.file.traits_text};
}

void report_files(const RunFiles& files, bool quiet) {
    if (files.out())
        fmt::print("\nThe trajectory is in {}.\n", escape_control(*files.out()));
    else if (!quiet)
        fmt::print("\nAdd --out RUN.h5 to keep the trajectory.\n");
    if (files.page())
        fmt::print("{} shows it, month by month: open it in a browser.\n",
                   escape_control(*files.page()));
}

void report(const Prepared& prepared, const Outcome& outcome, const Ensemble& ensemble,
            const Arguments& arguments, const RunFiles& files) {
    const Layout& layout = prepared.layout();
    const int members = members_of(arguments);
    if (arguments.json()) {
        fmt::print(
            "{}", forecast_json(layout, outcome.summary,
                                seed_of(arguments, prepared.file.checkpoint.get()), members,
                                ensemble, files.kept(), warning_sentences(prepared.file.warnings)));
        return;
    }
    fmt::print("{}\n", lamp_output_text(layout, prepared.calibration));
    fmt::print("{}", forecast_text(layout, outcome.summary, bold));
    if (members > 1) fmt::print("\n{}", ensemble_text(layout, ensemble));
    fmt::print("\n{}", cautions_text(layout));
    report_files(files, arguments.quiet());
}

void report_interrupted(const RunFiles& files) {
    print_message(
        "bedshade: interrupted{}{}\n",
        files.out() ? fmt::format("; the finished part is in {}.part", escape_control(*files.out()))
                    : "",
        files.page() ? "; no page was written" : "");
}

int run(const Arguments& arguments) {
    catch_interrupts();
    const RunFiles files(arguments);
    Prepared prepared = prepare(arguments);
    set_months(prepared.file.layout, arguments);
    const int members = members_of(arguments);
    const auto seed = seed_of(arguments, prepared.file.checkpoint.get());
    Pool pool(arguments.threads());
    RunOptions options = prepared.run_options(seed);
    options.full_light = arguments.has("full");
    Forecast forecast(prepared.layout(), options, pool.parallel_for());
    std::optional<TrajectoryWriter> trajectory;
    if (const auto path = files.trajectory()) {
        const FlowSample flow = flow_sample(prepared.layout().tank, forecast.flow());
        trajectory.emplace(*path, prepared.layout(), forecast.grid(),
                           run_provenance(prepared, seed, members), &flow);
    }
    TrajectoryWriter* const file = trajectory ? &*trajectory : nullptr;
    const Outcome outcome =
        run_single(prepared.layout(), prepared.calibration.output_scale, forecast, arguments, file);
    EnsembleOutcome ensemble;
    if (outcome.finished)
        ensemble = run_members(prepared.layout(), options, members, outcome.summary.flags, pool,
                               arguments, file);
    if (ensemble.finished && file != nullptr) file->finish();
    trajectory.reset();
    if (!ensemble.finished) {
        report_interrupted(files);
        return kInterrupted;
    }
    files.write_page();
    report(prepared, outcome, ensemble.ensemble, arguments, files);
    const bool flagged = !outcome.summary.flags.empty();
    return flagged && arguments.has("fail-on-flag") ? kFlagged : kDone;
}

}  // namespace

const Command kForecastCommand = {
    "forecast",
    "LAYOUT",
    "two years ahead: growth, shading, and what goes wrong when",
    "Steps the layout through time and names, month by month, which coral is starved, buried, "
    "stung or\n"
    "overgrown, and by whom.\n"
    "  bedshade forecast my_tank.toml\n  bedshade forecast my_tank.toml --months 36 --out "
    "my_tank.h5",
    [](po::options_description& options) {
        add_run_options(options);
        add_members_option(options);
        options.add_options()("out", po::value<std::string>()->value_name("RUN.h5"),
                              "write the trajectory there")(
            "page", po::value<std::string>()->value_name("RUN.html"),
            "write the run as a page for a browser there")("force", "replace existing files")(
            "full",
            "trace all light again in each step, to check the faster method (slow; same results)")(
            "fail-on-flag", "exit with 3 if a flag is raised");
    },
    run,
    kTakesAll};

}  // namespace bedshade
