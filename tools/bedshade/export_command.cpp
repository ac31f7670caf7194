// bedshade export: a run in the formats of other programs.
#include <algorithm>
#include <fmt/format.h>
#include <fmt/ranges.h>
#include <nlohmann/json.hpp>
#include <stdexcept>

#include "sim/base/calendar.h"
#include "sim/base/folder_output.h"
#include "sim/base/plain_text.h"
#include "sim/base/pool.h"
#include "sim/base/text.h"
#include "sim/export/continued_layout.h"
#include "sim/export/export_csv.h"
#include "sim/export/export_gltf.h"
#include "sim/export/export_vtk.h"
#include "sim/export/rerun_until.h"
#include "sim/input/traits/traits_reader.h"
#include "sim/trajectory/run_layout.h"

#include "tools/bedshade/arguments.h"
#include "tools/bedshade/interrupt.h"
#include "tools/bedshade/option_values.h"
#include "tools/bedshade/terminal.h"

namespace bedshade {
namespace {

/// The requested month, or all of them.
std::vector<int> months_option(const Trajectory& run, const Arguments& arguments) {
    const auto month = arguments.maybe<int>("month");
    if (!month) return months_of(run);
    try {
        snapshot_at_month(run, *month);
    } catch (const std::out_of_range& error) {
        throw UsageError(error.what());
    }
    return {*month};
}

void export_scenes(const Trajectory& run, const Arguments& arguments, const ExportSink& sink) {
    const Layout layout = layout_of(run);
    for (const int month : months_option(run, arguments))
        sink(fmt::format("month_{:02}.glb", month), month_glb(run, layout, month));
}

/// The day to continue from; the month must be in the run, and not its beginning.
double day_to_go_on(const Trajectory& run, const Layout& layout, const Arguments& arguments) {
    const int month = months_option(run, arguments).front();
    const double day_d = last_step_end_d(layout.season, month);
    if (day_d > layout.season.from_d) return day_d;
    throw UsageError(
        fmt::format("--month is {}, but by its end the run, which begins on day {:g}, has made no "
                    "whole step of {:g} d",
                    month, layout.season.from_d, layout.season.step_d));
}

/// The layout as it stands at the end of a month and, where the run had traits of its own, those.
/// False when interrupted.
bool export_layout(const Trajectory& run, const Arguments& arguments, const ExportSink& sink) {
    const Layout layout = layout_of(run);
    const double day_d = day_to_go_on(run, layout, arguments);
    Pool pool(arguments.threads());
    ProgressBar bar("export", arguments.quiet());
    const auto go_on = [&](double done) {
        bar.show(done * layout.season.months * kDaysPerMonth / day_d, "the run again");
        return !interrupted();
    };
    const auto so_far = rerun_until(day_d, run, layout, pool.parallel_for(), go_on);
    if (!so_far) return false;
    const RunProvenance& facts = run.facts();
    const bool own_traits = facts.traits_text != builtin_traits().text();
    sink(fmt::format("month_{:02}.toml", arguments.value<int>("month")),
         continued_layout_text(facts, *so_far, own_traits ? "traits.csv" : ""));
    if (own_traits) sink("traits.csv", facts.traits_text);
    return true;
}

/// False when interrupted.
bool export_as(const std::string& format, const Trajectory& run, const Arguments& arguments,
               const ExportSink& sink) {
    if (format == "csv")
        export_csv(run, sink);
    else if (format == "gltf")
        export_scenes(run, arguments, sink);
    else if (format == "layout")
        return export_layout(run, arguments, sink);
    else
        export_vtk(run, months_option(run, arguments), sink);
    return true;
}

void check_format(const std::string& format, const Arguments& arguments) {
    static const std::vector<std::string> kKnown = {"csv", "gltf", "vtk", "layout"};
    if (std::find(kKnown.begin(), kKnown.end(), format) == kKnown.end())
        throw UsageError(fmt::format("--to is '{}'; allowed: {}", escape_control(format),
                                     fmt::join(kKnown, ", ")));
    if (format == "csv" && arguments.has("month"))
        throw UsageError("--month goes with gltf, vtk and layout; tables have every snapshot");
    if (format == "layout" && !arguments.has("month"))
        throw UsageError("--month is missing: the layout continues from the end of that month");
}

void report(const std::string& out, const std::vector<std::string>& files,
            const Arguments& arguments) {
    if (arguments.json()) {
        const nlohmann::ordered_json document = {{"format", 1}, {"files", files}};
        fmt::print("{}", json_text(document));
    } else if (!arguments.quiet()) {
        fmt::print("{} has {} file{}.\n", escape_control(out), files.size(),
                   files.size() == 1 ? "" : "s");
    }
}

int run(const Arguments& arguments) {
    const std::string& path = arguments.only_word("trajectory file");
    require_given(arguments, {"to", "out"});
    const auto format = arguments.value<std::string>("to");
    const auto out = arguments.value<std::string>("out");
    check_format(format, arguments);
    catch_interrupts();
    const Trajectory trajectory(path);
    FolderOutput folder(out);
    std::vector<std::string> files;
    const ExportSink sink = [&](const std::string& name, const std::string& bytes) {
        folder.add(name, bytes);
        files.push_back((std::filesystem::path(out) / name).string());
    };
    if (!export_as(format, trajectory, arguments, sink)) {
        print_message("bedshade: interrupted; nothing was written\n");
        return kInterrupted;
    }
    folder.finish();
    report(out, files, arguments);
    return kDone;
}

}  // namespace

const Command kExportCommand = {
    "export",
    "RUN.h5 --to csv|gltf|vtk|layout --out FOLDER",
    "a run as tables, as scenes for other 3-D programs, or as a layout to continue from",
    "csv: tables of colonies, shade, bed, flags and events. gltf: a 3-D scene (.glb) for each "
    "month. vtk:\n"
    "corals (.vtp) and bed (.vti) for each month with their data, and run.pvd to open them all. "
    "The\n"
    "folder must be new. layout: the layout at the end of a month, every coral in its\n"
    "shape and state then, to change and to run on.\n"
    "  bedshade export my_tank.h5 --to csv --out my_tank_tables\n"
    "  bedshade export my_tank.h5 --to gltf --month 24 --out my_tank_scene\n"
    "  bedshade export my_tank.h5 --to layout --month 12 --out my_tank_in_a_year",
    [](po::options_description& options) {
        options.add_options()("to", po::value<std::string>()->value_name("csv|gltf|vtk|layout"),
                              "the format")("out", po::value<std::string>()->value_name("FOLDER"),
                                            "write the files there")(
            "month", po::value<int>()->value_name("M"),
            "only this month, from 0 (gltf, vtk, layout)");
    },
    run,
    kTakesThreads | kTakesJson | kTakesQuiet};

}  // namespace bedshade
