// bedshade light: the light of day 0 on the bed, on every colony and at points, lamps at plateau.
#include <algorithm>
#include <cmath>
#include <fmt/format.h>
#include <limits>
#include <nlohmann/json.hpp>
#include <numeric>

#include "sim/input/units.h"
#include "sim/output/output_path.h"
#include "sim/output/report.h"
#include "sim/output/text_output.h"
#include "sim/season/pool.h"

#include "tools/bedshade/prepare.h"

namespace bedshade {
namespace {

/// One line of the command's table; needs are NaN where there is none.
struct LightRow {
    std::string kind, name;
    Vec3 at_m;
    double ppfd_umol_m2_s = 0.0, dli_mol_m2_d = 0.0;
    double need_umol_m2_s = std::numeric_limits<double>::quiet_NaN();
    double need_dli_mol_m2_d = std::numeric_limits<double>::quiet_NaN();
};

/// The day's photons behind plateau light by lamp [mol m-2 d-1].
double dli_of(const Layout& layout, const double* by_lamp) {
    constexpr double kMolPerUmolHours = 3600.0 * 1e-6;
    double dli = 0.0;
    for (std::size_t l = 0; l < layout.lamps.size(); ++l)
        dli += by_lamp[l] * layout.lamps[l].day.plateau_hours() * kMolPerUmolHours;
    return dli;
}

/// "60,30,0": centimetres.
Vec3 point_of(const std::string& text) {
    std::string spaced = text + " cm";
    std::replace(spaced.begin(), spaced.end(), ',', ' ');
    const auto read = read_quantities(spaced, kLength);
    const auto* metres = std::get_if<std::vector<double>>(&read);
    if (metres == nullptr || metres->size() != 3)
        throw UsageError(fmt::format(
            "--at is '{}'; three numbers in cm are wanted, such as 60,30,0", printable(text)));
    return {(*metres)[0], (*metres)[1], (*metres)[2]};
}

std::vector<LightRow> point_rows(const Layout& layout, const Forecast& forecast,
                                 const std::vector<std::string>& asked) {
    const Tank& tank = layout.tank;
    const Box water{Vec3::Zero(), Vec3(tank.length_m, tank.width_m, tank.water_depth_m)};
    std::vector<LightReceptor> sensors;
    for (const std::string& text : asked) {
        const Vec3 at = point_of(text);
        if (!water.contains(at))
            throw UsageError(
                fmt::format("--at {} lies outside the water: 0 to {:g}, 0 to {:g}, 0 to {:g} cm",
                            printable(text), 100.0 * tank.length_m, 100.0 * tank.width_m,
                            100.0 * tank.water_depth_m));
        sensors.push_back({at, Vec3::UnitZ()});
    }
    const auto light = forecast.light_at(sensors);
    std::vector<LightRow> rows;
    for (std::size_t p = 0; p < sensors.size(); ++p) {
        const double* by_lamp = light.data() + p * layout.lamps.size();
        LightRow row{"point", asked[p], sensors[p].position_m};
        row.ppfd_umol_m2_s = std::accumulate(by_lamp, by_lamp + layout.lamps.size(), 0.0);
        row.dli_mol_m2_d = dli_of(layout, by_lamp);
        rows.push_back(row);
    }
    return rows;
}

std::vector<LightRow> colony_rows(const Layout& layout, const Frame& frame) {
    std::vector<LightRow> rows;
    for (std::size_t i = 0; i < layout.colonies.size(); ++i) {
        const ColonyFinding& found = frame.colonies[i];
        rows.push_back({"colony", layout.colonies[i].name, frame.reef.colonies[i].position_m,
                        found.ppfd_mean_umol_m2_s, found.dli_mol_m2_d, found.need_ppfd_umol_m2_s,
                        found.need_dli_mol_m2_d});
    }
    return rows;
}

std::vector<LightRow> bed_rows(const BedGrid& grid, const Frame& frame) {
    std::vector<LightRow> rows;
    for (int j = 0; j < grid.ny; ++j)
        for (int i = 0; i < grid.nx; ++i)
            rows.push_back({"bed", fmt::format("{} {}", i + 1, j + 1),
                            Vec3(grid.x_m(i), grid.y_m(j), 0.0),
                            frame.bed.ppfd_umol_m2_s[grid.index(i, j)],
                            frame.bed.dli_mol_m2_d[grid.index(i, j)]});
    return rows;
}

std::string csv_name(const std::string& name) {
    if (name.find_first_of(",\"\r\n") == std::string::npos) return name;
    std::string quoted = "\"";
    for (const char c : name) quoted += c == '"' ? std::string("\"\"") : std::string(1, c);
    return quoted + "\"";
}

std::string csv_number(double value) {
    return std::isnan(value) ? "" : fmt::format("{:.9g}", value);
}

std::string csv_text(const std::vector<LightRow>& rows) {
    std::string text =
        "kind,name,x_cm,y_cm,z_cm,ppfd_umol_m2_s,dli_mol_m2_d,need_umol_m2_s,need_dli_mol_m2_d\n";
    for (const LightRow& r : rows)
        text += fmt::format("{},{},{:.9g},{:.9g},{:.9g},{},{},{},{}\n", r.kind, csv_name(r.name),
                            100.0 * r.at_m.x(), 100.0 * r.at_m.y(), 100.0 * r.at_m.z(),
                            csv_number(r.ppfd_umol_m2_s), csv_number(r.dli_mol_m2_d),
                            csv_number(r.need_umol_m2_s), csv_number(r.need_dli_mol_m2_d));
    return text;
}

nlohmann::ordered_json row_json(const LightRow& r) {
    nlohmann::ordered_json row = {{"kind", r.kind},
                                  {"name", r.name},
                                  {"x_cm", 100.0 * r.at_m.x()},
                                  {"y_cm", 100.0 * r.at_m.y()},
                                  {"z_cm", 100.0 * r.at_m.z()},
                                  {"ppfd_umol_m2_s", r.ppfd_umol_m2_s},
                                  {"dli_mol_m2_d", r.dli_mol_m2_d}};
    if (!std::isnan(r.need_dli_mol_m2_d)) {
        row["need_umol_m2_s"] = r.need_umol_m2_s;
        row["need_dli_mol_m2_d"] = r.need_dli_mol_m2_d;
    }
    return row;
}

void print_json(const Prepared& prepared, const std::vector<LightRow>& rows) {
    nlohmann::ordered_json list = nlohmann::ordered_json::array();
    for (const LightRow& row : rows) list.push_back(row_json(row));
    const nlohmann::ordered_json document = {
        {"format", 1},
        {"layout", prepared.layout().path},
        {"output_scale", prepared.calibration.output_scale},
        {"rows", list},
        {"warnings", warning_sentences(prepared.file.warnings)}};
    fmt::print("{}\n",
               document.dump(2, ' ', false, nlohmann::ordered_json::error_handler_t::replace));
}

void print_colonies(const Layout& layout, const Frame& frame) {
    if (layout.colonies.empty()) return;
    fmt::print(
        "\nLight on the colonies (mean of the upper surface) against what each needs\n"
        "  {:<20} {:<24} {:>16} {:>7} {:>7} {:>7} {:>7} {:>9}\n",
        "name", "kind", "x, y, z cm", "PPFD", "need", "DLI", "need", "DLI/need");
    for (std::size_t i = 0; i < layout.colonies.size(); ++i) {
        const Colony& colony = layout.colonies[i];
        const ColonyFinding& f = frame.colonies[i];
        const Vec3 cm = 100.0 * frame.reef.colonies[i].position_m;
        fmt::print(
            "  {:<20} {:<24} {:>16} {:>7.1f} {:>7.1f} {:>7.2f} {:>7.2f} {:>9}\n",
            printable(colony.name), layout.taxon_of(colony).id,
            fmt::format("{:.0f}, {:.0f}, {:.0f}", cm.x(), cm.y(), cm.z()), f.ppfd_mean_umol_m2_s,
            f.need_ppfd_umol_m2_s, f.dli_mol_m2_d, f.need_dli_mol_m2_d,
            f.need_dli_mol_m2_d > 0.0 ? fmt::format("{:.2f}", f.dli_mol_m2_d / f.need_dli_mol_m2_d)
                                      : std::string("no need"));
    }
    fmt::print("  PPFD in umol m-2 s-1 with the lamps at plateau, DLI in mol m-2 a day\n");
}

int run(const Arguments& arguments) {
    const auto csv = arguments.maybe<std::string>("csv");
    if (csv) check_output(*csv, arguments.has("force"));
    const Prepared prepared = prepare(arguments);
    const Layout& layout = prepared.layout();
    Pool pool(arguments.threads());
    Forecast forecast(layout, prepared.forecast_options(1), pool.parallel_for());
    const Frame frame = forecast.look(0.0);
    const auto asked =
        arguments.maybe<std::vector<std::string>>("at").value_or(std::vector<std::string>{});
    std::vector<LightRow> rows = bed_rows(forecast.grid(), frame);
    for (auto& row : colony_rows(layout, frame)) rows.push_back(std::move(row));
    const auto points = point_rows(layout, forecast, asked);
    rows.insert(rows.end(), points.begin(), points.end());
    if (csv) write_text(*csv, csv_text(rows));
    if (arguments.json()) {
        print_json(prepared, rows);
        return kDone;
    }
    fmt::print("{}", lamp_output_text(layout, prepared.calibration));
    for (const LightRow& row : points)
        fmt::print(
            "At {} cm: {:.9g} umol m-2 s-1, {:.9g} mol m-2 a day (a level sensor facing up)\n",
            row.name, row.ppfd_umol_m2_s, row.dli_mol_m2_d);
    if (points.empty()) {
        fmt::print("\n{}", bed_map_text(forecast.grid(), frame.bed.ppfd_umol_m2_s));
        print_colonies(layout, frame);
    }
    if (csv && !arguments.quiet()) fmt::print("{} holds every row.\n", printable(*csv));
    return kDone;
}

}  // namespace

const Command kLightCommand = {
    "light",
    "LAYOUT",
    "light on day 0: the bed, each colony against its need, any point",
    "Plateau light (PPFD, umol m-2 s-1) and the day's light (DLI, mol m-2 d-1).\n"
    "  bedshade light my_tank.toml\n  bedshade light my_tank.toml --at 60,30,0 --csv light.csv",
    [](po::options_description& options) {
        options.add_options()("at", po::value<std::vector<std::string>>()->value_name("X,Y,Z"),
                              "a point in cm, for a level sensor facing up (may be repeated)")(
            "csv", po::value<std::string>()->value_name("FILE"), "write every row there")(
            "force", "replace a file that is there");
    },
    run};

}  // namespace bedshade
