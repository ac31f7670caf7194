// bedshade check: read everything, list contents and problems; run nothing.
#include <algorithm>
#include <fmt/format.h>
#include <nlohmann/json.hpp>
#include <sstream>

#include "model/sediment/bed_sand.h"

#include "sim/base/calendar.h"
#include "sim/base/plain_text.h"
#include "sim/base/pool.h"
#include "sim/base/text.h"
#include "sim/report/bed_text.h"
#include "sim/report/report.h"
#include "sim/run/colony_sand.h"
#include "sim/run/flow_cache.h"
#include "sim/run/reef_light.h"

#include "tools/bedshade/prepare.h"

namespace bedshade {
namespace {

std::size_t count_on_bed(const Layout& layout) {
    std::size_t count = 0;
    for (const Colony& colony : layout.colonies) count += colony.on_bed() ? 1 : 0;
    return count;
}

std::string counted(std::size_t n, const char* one, const char* many) {
    return fmt::format("{} {}", n, n == 1 ? one : many);
}

/// The day a continued run starts from.
std::string continuation_text(const Season& season) {
    if (season.from_d <= 0.0) return "";
    return fmt::format(", continued from {}", date_at(season.start, season.from_d));
}

void print_holdings(const Layout& layout) {
    const Tank& tank = layout.tank;
    fmt::print("{}\n", escape_control(layout.title.empty() ? layout.path : layout.title));
    fmt::print("  tank      {:g} x {:g} cm, {:g} cm of water over the sand\n",
               100.0 * tank.length_m, 100.0 * tank.width_m, 100.0 * tank.water_depth_m);
    const Season& season = layout.season;
    fmt::print("  run       {} from {}{}, steps of {:g} d\n",
               counted(static_cast<std::size_t>(season.months), "month", "months"),
               to_string(season.start), continuation_text(season), season.step_d);
    fmt::print("  sand      {:g} mm grain, {:g} cm deep\n", 1000.0 * layout.substrate.grain_m,
               100.0 * layout.substrate.depth_m);
    double flux = 0.0;
    for (const Lamp& lamp : layout.lamps) flux += lamp.photon_flux_umol_s * lamp.output;
    fmt::print("  light     {}, {:.0f} umol/s as run\n",
               counted(layout.lamps.size(), "lamp", "lamps"), flux);
    double flow = 0.0;
    for (const Pump& pump : layout.pumps) flow += pump.flow_m3_s * pump.duty;
    fmt::print("  flow      {}, {:.0f} L/h\n", counted(layout.pumps.size(), "pump", "pumps"),
               3.6e6 * flow);
    fmt::print("  contents  {}, {} ({} on the bed), {}\n",
               counted(layout.rocks.size(), "rock", "rocks"),
               counted(layout.colonies.size(), "colony", "colonies"), count_on_bed(layout),
               counted(layout.inhabitants.size(), "kind of inhabitant", "kinds of inhabitants"));
}

nlohmann::ordered_json readings_json(const Calibration& calibration) {
    auto rows = nlohmann::ordered_json::array();
    for (const ReadingComparison& c : calibration.comparisons)
        rows.push_back({{"x_cm", 100.0 * c.reading.at_m.x()},
                        {"y_cm", 100.0 * c.reading.at_m.y()},
                        {"z_cm", 100.0 * c.reading.at_m.z()},
                        {"sensor", c.reading.sensor == Sensor::planar ? "planar" : "scalar"},
                        {"meter_umol_m2_s", c.reading.ppfd_umol_m2_s},
                        {"model_umol_m2_s", c.model_umol_m2_s},
                        {"ratio", c.ratio}});
    return rows;
}

/// What sand and those who live in it do to rock and corals as they are set. Rock on sand asks for
/// the tank's flow, which is solved in a few seconds where it has not been before.
std::string sand_cautions(const LayoutFile& file, const Arguments& arguments) {
    const Layout& layout = file.layout;
    const Reef reef = reef_at_start(layout, file.checkpoint.get());
    std::string text = irritation_text(layout, reef);
    const bool on_sand = std::any_of(layout.rocks.begin(), layout.rocks.end(),
                                     [](const Rock& r) { return r.rests_on == RestsOn::sand; });
    if (!on_sand) return text;
    Pool pool(arguments.threads());
    const BedGrid grid = bed_grid_of(layout.tank);
    const BedSand plan(layout.tank, layout.substrate, layout.rocks, layout.inhabitants,
                       layout.water, process_flow_cache().flow_of(layout, pool.parallel_for()),
                       grid, flow_bodies(reef));
    const std::string undermined = undermined_text(layout, grid, plan.net_change_kg_m2_d());
    return text.empty() || undermined.empty() ? text + undermined : text + "\n" + undermined;
}

/// The same cautions, line by line.
std::vector<std::string> lines_of(const std::string& text) {
    std::vector<std::string> lines;
    std::istringstream stream(text);
    for (std::string line; std::getline(stream, line);)
        if (!line.empty()) lines.push_back(line);
    return lines;
}

void print_json(const Prepared& prepared, const Arguments& arguments) {
    const Layout& layout = prepared.layout();
    const nlohmann::ordered_json document = {
        {"format", 1},
        {"layout", layout.path},
        {"lamps", layout.lamps.size()},
        {"pumps", layout.pumps.size()},
        {"rocks", layout.rocks.size()},
        {"colonies", layout.colonies.size()},
        {"on_bed", count_on_bed(layout)},
        {"readings", readings_json(prepared.calibration)},
        {"output_scale", prepared.calibration.output_scale},
        {"sand_cautions", lines_of(sand_cautions(prepared.file, arguments))},
        {"warnings", warning_sentences(prepared.file.warnings)}};
    fmt::print("{}", json_text(document));
}

int run(const Arguments& arguments) {
    const Prepared prepared = prepare(arguments);
    if (arguments.json()) {
        print_json(prepared, arguments);
        return kDone;
    }
    print_holdings(prepared.layout());
    fmt::print("\n{}", lamp_output_text(prepared.layout(), prepared.calibration));
    const std::string readings = readings_text(prepared.calibration);
    if (!readings.empty()) fmt::print("\n{}", readings);
    const std::string sand = sand_cautions(prepared.file, arguments);
    if (!sand.empty()) fmt::print("\n{}", sand);
    fmt::print("\n{}", cautions_text(prepared.layout()));
    const std::size_t warnings = prepared.file.warnings.size();
    fmt::print("\nThe layout can be run{}.\n",
               warnings == 0 ? "" : fmt::format("; {}", counted(warnings, "warning", "warnings")));
    return kDone;
}

}  // namespace

const Command kCheckCommand = {
    "check",
    "LAYOUT",
    "read a layout, list its contents and problems; run nothing",
    "Every problem in the file is listed at once: file, line, what was found, what is allowed.\n"
    "Light-meter readings in the layout are compared with the model.\n"
    "  bedshade check my_tank.toml",
    [](po::options_description&) {},
    run,
    kTakesAll};

}  // namespace bedshade
