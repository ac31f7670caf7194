// bedshade arrange: better places for the corals that may be moved.
#include <algorithm>
#include <fmt/format.h>

#include "sim/arrange/arrange_report.h"
#include "sim/base/pool.h"
#include "sim/base/text.h"
#include "sim/report/report.h"
#include "sim/run/flow_cache.h"

#include "tools/bedshade/advice_options.h"
#include "tools/bedshade/interrupt.h"
#include "tools/bedshade/option_values.h"
#include "tools/bedshade/prepare.h"
#include "tools/bedshade/run_options.h"
#include "tools/bedshade/terminal.h"

namespace bedshade {
namespace {

constexpr int kForecasts = 60;

/// The colonies named by an option, by index; throws UsageError for a name that is none.
std::vector<int> named(const Arguments& arguments, const Layout& layout, const char* option) {
    std::vector<int> found;
    if (!arguments.has(option)) return found;
    for (const std::string& name : arguments.value<std::vector<std::string>>(option)) {
        const auto at = std::find_if(layout.colonies.begin(), layout.colonies.end(),
                                     [&](const Colony& colony) { return colony.name == name; });
        if (at == layout.colonies.end())
            throw UsageError(
                fmt::format("--{}: the layout has no colony '{}'", option, escape_control(name)));
        found.push_back(static_cast<int>(at - layout.colonies.begin()));
    }
    return found;
}

bool is_among(const std::vector<int>& colonies, int colony) {
    return std::find(colonies.begin(), colonies.end(), colony) != colonies.end();
}

/// Those named by --move, or all; never one that is fixed or named by --keep.
std::vector<int> movable(const Arguments& arguments, const Layout& layout) {
    const auto move = named(arguments, layout, "move"), keep = named(arguments, layout, "keep");
    std::vector<int> free;
    for (int i = 0; i < static_cast<int>(layout.colonies.size()); ++i) {
        const Colony& colony = layout.colonies[static_cast<std::size_t>(i)];
        if (is_among(move, i) && (colony.fixed || is_among(keep, i)))
            throw UsageError(
                fmt::format("--move: '{}' is {}", escape_control(colony.name),
                            colony.fixed ? "fixed in the layout" : "kept in place by --keep"));
        const bool asked = move.empty() || is_among(move, i);
        if (asked && !colony.fixed && !is_among(keep, i)) free.push_back(i);
    }
    if (free.empty()) throw UsageError("no colony may be moved: all are fixed or kept in place");
    return free;
}

void report(const Prepared& prepared, const ArrangeOptions& options, const ArrangeAdvice& advice,
            const AdviceFiles& files, const Arguments& arguments) {
    const Layout& layout = prepared.layout();
    if (arguments.json()) {
        fmt::print("{}", arrange_json(layout, options, advice, files.names(),
                                      warning_sentences(prepared.file.warnings)));
        return;
    }
    fmt::print("{}\n", lamp_output_text(layout, prepared.calibration));
    fmt::print("{}", arrange_text(layout, options, advice));
    fmt::print("\n{}", cautions_text(layout));
    fmt::print("{}", files.text());
    if (files.change.empty() && !advice.moved.empty())
        fmt::print("\nAs a change file (--out CHANGE.toml writes it):\n\n{}",
                   arrange_change(layout, advice));
}

int run(const Arguments& arguments) {
    catch_interrupts();
    const AdviceFiles files = checked_files(arguments);
    Prepared prepared = prepare(arguments);
    set_months(prepared.file.layout, arguments);
    require_beginning(prepared.layout(), "arrange");
    ArrangeOptions options;
    options.seed = seed_of(arguments);
    options.output_scale = prepared.calibration.output_scale;
    options.forecasts = whole_within(arguments, "forecasts", 1, 100000);
    options.fresh = whole_within(arguments, "fresh", 1, 1000);
    options.movable = movable(arguments, prepared.layout());
    Pool pool(arguments.threads());
    // Solved once, on all threads, before forecasts run side by side on one thread each.
    process_flow_cache().flow_of(prepared.layout(), pool.parallel_for());
    const double most = work_of_arranging(options);
    ProgressBar bar("arrange", arguments.quiet());
    ResultCache cache = cache_of(prepared, "arrange");
    const auto go_on = [&](double done) {
        bar.show(done / most, fmt::format("{:.0f} of at most {:.0f} forecasts", done, most));
        return !interrupted();
    };
    RunBudget work(most, pool.parallel_for(), go_on, &cache);
    const ArrangeAdvice advice = arrange(prepared.layout(), options, pool.parallel_for(), work);
    if (!advice.finished) return report_interrupted();
    write_files(files, arguments, prepared, arrange_change(prepared.layout(), advice));
    report(prepared, options, advice, files, arguments);
    return kDone;
}

}  // namespace

const Command kArrangeCommand = {
    "arrange",
    "LAYOUT",
    "better positions for corals that may be moved, to improve the worst margin",
    "Moves corals to other spots of the sand and the rocks so that the smallest margin of any, "
    "over the whole\n"
    "run, grows. Corals with fixed = true stay where they are.\n"
    "  bedshade arrange my_tank.toml --keep \"big plate\" --out my_moves.toml\n"
    "  bedshade compare my_tank.toml my_moves.toml",
    [](po::options_description& options) {
        add_run_options(options);
        add_advice_options(options, kForecasts);
        options.add_options()(
            "move", po::value<std::vector<std::string>>()->composing()->value_name("NAME"),
            "move this colony; can be given again (default: all that are not fixed)")(
            "keep", po::value<std::vector<std::string>>()->composing()->value_name("NAME"),
            "leave this colony where it is; can be given again")(
            "fresh", po::value<int>()->default_value(12)->value_name("N"),
            "new runs, of the next seed, that score both layouts again");
    },
    run,
    kTakesAll};

}  // namespace bedshade
