// bedshade export: a run in the formats of other programs.
#include <fmt/format.h>
#include <nlohmann/json.hpp>
#include <stdexcept>

#include "sim/output/export_csv.h"
#include "sim/output/export_gltf.h"
#include "sim/output/export_vtk.h"
#include "sim/output/folder_output.h"
#include "sim/output/plain_text.h"
#include "sim/output/run_layout.h"

#include "tools/bedshade/arguments.h"

namespace bedshade {
namespace {

/// The month asked for, or all of them.
std::vector<int> months_asked(const Trajectory& run, const Arguments& arguments) {
    const auto month = arguments.maybe<int>("month");
    if (!month) return months_of(run);
    try {
        frame_at_month(run, *month);
    } catch (const std::out_of_range& error) {
        throw UsageError(error.what());
    }
    return {*month};
}

void export_scenes(const Trajectory& run, const Arguments& arguments, const ExportSink& sink) {
    const Layout layout = layout_of(run);
    for (const int month : months_asked(run, arguments))
        sink(fmt::format("month_{:02}.glb", month), month_glb(run, layout, month));
}

void export_as(const std::string& format, const Trajectory& run, const Arguments& arguments,
               const ExportSink& sink) {
    if (format == "csv")
        export_csv(run, sink);
    else if (format == "gltf")
        export_scenes(run, arguments, sink);
    else
        export_vtk(run, months_asked(run, arguments), sink);
}

void check_format(const std::string& format, const Arguments& arguments) {
    if (format != "csv" && format != "gltf" && format != "vtk")
        throw UsageError(fmt::format("--to is '{}'; allowed: csv, gltf, vtk", printable(format)));
    if (format == "csv" && arguments.has("month"))
        throw UsageError("--month goes with gltf and vtk; tables hold every frame");
}

void report(const std::string& out, const std::vector<std::string>& files,
            const Arguments& arguments) {
    if (arguments.json()) {
        const nlohmann::ordered_json document = {{"format", 1}, {"files", files}};
        fmt::print("{}", json_text(document));
    } else if (!arguments.quiet()) {
        fmt::print("{} holds {} file{}.\n", printable(out), files.size(),
                   files.size() == 1 ? "" : "s");
    }
}

int run(const Arguments& arguments) {
    const std::string& path = arguments.only_word("trajectory file");
    for (const char* needed : {"to", "out"})
        if (!arguments.has(needed)) throw UsageError(fmt::format("--{} is missing", needed));
    const auto format = arguments.value<std::string>("to");
    const auto out = arguments.value<std::string>("out");
    check_format(format, arguments);
    const Trajectory trajectory(path);
    FolderOutput folder(out);
    std::vector<std::string> files;
    export_as(format, trajectory, arguments,
              [&](const std::string& name, const std::string& bytes) {
                  folder.add(name, bytes);
                  files.push_back((std::filesystem::path(out) / name).string());
              });
    folder.finish();
    report(out, files, arguments);
    return kDone;
}

}  // namespace

const Command kExportCommand = {
    "export",
    "RUN.h5 --to csv|gltf|vtk --out FOLDER",
    "a run as tables, or as scenes for other 3-D programs",
    "csv: tables of colonies, shade, bed, flags and events. gltf: a 3-D scene (.glb) for each "
    "month. vtk:\n"
    "corals (.vtp) and bed (.vti) for each month with their figures, and run.pvd to open them all. "
    "The\n"
    "folder must be new.\n"
    "  bedshade export my_tank.h5 --to csv --out my_tank_tables\n"
    "  bedshade export my_tank.h5 --to gltf --month 24 --out my_tank_scene",
    [](po::options_description& options) {
        options.add_options()("to", po::value<std::string>()->value_name("csv|gltf|vtk"),
                              "the format")("out", po::value<std::string>()->value_name("FOLDER"),
                                            "write the files there")(
            "month", po::value<int>()->value_name("M"), "only this month, from 0 (gltf and vtk)");
    },
    run,
    kTakesJson | kTakesQuiet};

}  // namespace bedshade
