// bedshade light: the light of day 0 on the bed, on every colony and at points, lamps at plateau.
#include <fmt/format.h>
#include <numeric>

#include "sim/base/plain_text.h"
#include "sim/base/pool.h"
#include "sim/base/text.h"
#include "sim/base/text_output.h"
#include "sim/report/report.h"

#include "tools/bedshade/inverse_square.h"
#include "tools/bedshade/light_rows.h"
#include "tools/bedshade/output_options.h"

namespace bedshade {
namespace {

std::vector<LightRow> point_rows(const Layout& layout, const Forecast& forecast,
                                 const std::vector<std::string>& asked) {
    std::vector<LightReceptor> sensors;
    sensors.reserve(asked.size());
    for (const std::string& text : asked)
        sensors.push_back({point_in_water(layout.tank, text), Vec3::UnitZ()});
    const auto light = forecast.light_at(forecast.light(), sensors);
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

std::vector<LightRow> colony_rows(const Layout& layout, const Snapshot& snapshot) {
    std::vector<LightRow> rows;
    for (std::size_t i = 0; i < layout.colonies.size(); ++i) {
        const ColonyObservation& found = snapshot.colonies[i];
        rows.push_back({"colony", layout.colonies[i].name, snapshot.reef.colonies[i].position_m,
                        found.ppfd_mean_umol_m2_s, found.dli_mol_m2_d, found.need_ppfd_umol_m2_s,
                        found.need_dli_mol_m2_d});
    }
    return rows;
}

std::vector<LightRow> bed_rows(const BedGrid& grid, const Snapshot& snapshot) {
    std::vector<LightRow> rows;
    for (int j = 0; j < grid.ny; ++j) {
        for (int i = 0; i < grid.nx; ++i) {
            LightRow row = bed_row(grid, i, j);
            row.ppfd_umol_m2_s = snapshot.bed.ppfd_umol_m2_s[grid.index(i, j)];
            row.dli_mol_m2_d = snapshot.bed.dli_mol_m2_d[grid.index(i, j)];
            rows.push_back(row);
        }
    }
    return rows;
}

void print_colonies(const Layout& layout, const Snapshot& snapshot) {
    if (layout.colonies.empty()) return;
    fmt::print(
        "\nLight on the colonies (mean of the upper surface) and the light each needs\n"
        "  {:<20} {:<24} {:>16} {:>7} {:>7} {:>7} {:>7} {:>9}\n",
        "name", "kind", "x, y, z cm", "PPFD", "need", "DLI", "need", "DLI/need");
    for (std::size_t i = 0; i < layout.colonies.size(); ++i) {
        const Colony& colony = layout.colonies[i];
        const ColonyObservation& f = snapshot.colonies[i];
        const Vec3 cm = 100.0 * snapshot.reef.colonies[i].position_m;
        fmt::print(
            "  {:<20} {:<24} {:>16} {:>7.1f} {:>7.1f} {:>7.2f} {:>7.2f} {:>9}\n",
            escape_control(colony.name), layout.taxon_of(colony).id,
            fmt::format("{:.0f}, {:.0f}, {:.0f}", cm.x(), cm.y(), cm.z()), f.ppfd_mean_umol_m2_s,
            f.need_ppfd_umol_m2_s, f.dli_mol_m2_d, f.need_dli_mol_m2_d,
            f.need_dli_mol_m2_d > 0.0 ? fmt::format("{:.2f}", f.dli_mol_m2_d / f.need_dli_mol_m2_d)
                                      : std::string("no need"));
    }
    fmt::print("  PPFD in umol m-2 s-1 with the lamps at plateau, DLI in mol m-2 a day\n");
}

int run(const Arguments& arguments) {
    const auto csv = output_option(arguments, "csv");
    const Prepared prepared = prepare(arguments);
    const Layout& layout = prepared.layout();
    Pool pool(arguments.threads());
    Forecast forecast(layout, prepared.run_options(1), pool.parallel_for());
    const Snapshot snapshot = forecast.observe(0.0);
    const auto asked =
        arguments.maybe<std::vector<std::string>>("at").value_or(std::vector<std::string>{});
    std::vector<LightRow> rows = bed_rows(forecast.grid(), snapshot);
    for (auto& row : colony_rows(layout, snapshot)) rows.push_back(std::move(row));
    const auto points = point_rows(layout, forecast, asked);
    rows.insert(rows.end(), points.begin(), points.end());
    if (csv) write_text(*csv, csv_text(rows, false));
    const auto inverse_square =
        compare_inverse_square(layout, forecast, snapshot.bed.ppfd_umol_m2_s);
    if (arguments.json()) {
        auto document = rows_document(prepared, rows);
        document["inverse_square"] = inverse_square_json(inverse_square);
        fmt::print("{}", json_text(document));
        return kDone;
    }
    fmt::print("{}", lamp_output_text(layout, prepared.calibration));
    for (const LightRow& row : points)
        fmt::print(
            "At {} cm: {:.9g} umol m-2 s-1, {:.9g} mol m-2 a day (a level sensor facing up)\n",
            row.name, row.ppfd_umol_m2_s, row.dli_mol_m2_d);
    if (points.empty()) {
        fmt::print("\n{}", bed_map_text(forecast.grid(), snapshot.bed.ppfd_umol_m2_s));
        print_colonies(layout, snapshot);
        fmt::print("{}", inverse_square_text(inverse_square));
    }
    if (csv && !arguments.quiet()) fmt::print("All rows are in {}.\n", escape_control(*csv));
    return kDone;
}

}  // namespace

const Command kLightCommand = {
    "light",
    "LAYOUT",
    "light on day 0: the bed, each colony and its need, any point",
    "Plateau light (PPFD, umol m-2 s-1) and the day's light (DLI, mol m-2 d-1), and the error of "
    "the\n"
    "inverse-square rule in this tank, with its causes.\n"
    "  bedshade light my_tank.toml\n  bedshade light my_tank.toml --at 60,30,0 --csv light.csv",
    [](po::options_description& options) {
        options.add_options()("at", po::value<std::vector<std::string>>()->value_name("X,Y,Z"),
                              "a point in cm, for a level sensor facing up (may be repeated)")(
            "csv", po::value<std::string>()->value_name("FILE"), "write every row there")(
            "force", "replace an existing file");
    },
    run,
    kTakesAll};

}  // namespace bedshade
