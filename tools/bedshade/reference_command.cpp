// bedshade reference: light on day 0 by counting single photons, to check `bedshade light` by.
#include <algorithm>
#include <fmt/format.h>

#include "model/monte_carlo/photon_transport.h"

#include "sim/base/plain_text.h"
#include "sim/base/pool.h"
#include "sim/base/text.h"
#include "sim/base/text_output.h"
#include "sim/report/report.h"
#include "sim/run/reef_light.h"

#include "tools/bedshade/interrupt.h"
#include "tools/bedshade/light_rows.h"
#include "tools/bedshade/option_values.h"
#include "tools/bedshade/output_options.h"
#include "tools/bedshade/terminal.h"

namespace bedshade {
namespace {

using namespace monte_carlo;

constexpr std::uint64_t kDefaultPhotons = 2'000'000;
constexpr std::uint64_t kFewestPhotons = 1'000, kMostPhotons = 100'000'000'000;
constexpr std::uint64_t kDefaultSeed = 1;

std::uint64_t photons_option(const Arguments& arguments) {
    const auto photons = arguments.value<Count>("photons").value;
    if (photons < kFewestPhotons || photons > kMostPhotons)
        throw UsageError(fmt::format("--photons is {}; allowed: {} to {}", photons, kFewestPhotons,
                                     kMostPhotons));
    return photons;
}

void fill(LightRow& row, const Layout& layout, const LightEstimate& light) {
    row.ppfd_umol_m2_s = light.ppfd_umol_m2_s;
    row.stderr_umol_m2_s = light.stderr_umol_m2_s;
    row.dli_mol_m2_d = dli_of(layout, light.by_lamp_umol_m2_s.data());
}

std::vector<LightRow> bed_rows(const Layout& layout, const BedGrid& grid, const Tally& tally) {
    std::vector<LightRow> rows;
    for (int j = 0; j < grid.ny; ++j) {
        for (int i = 0; i < grid.nx; ++i) {
            LightRow row = bed_row(grid, i, j);
            fill(row, layout, tally.light_at(grid.index(i, j)));
            rows.push_back(row);
        }
    }
    return rows;
}

std::vector<LightRow> point_rows(const Layout& layout, const PhotonTransport& tracer,
                                 const Tally& tally, const std::vector<std::string>& asked) {
    std::vector<LightRow> rows;
    for (std::size_t p = 0; p < asked.size(); ++p) {
        LightRow row{"point", asked[p], point_in_water(layout.tank, asked[p])};
        fill(row, layout, tally.light_at(tracer.sensor_place(p)));
        rows.push_back(row);
    }
    return rows;
}

nlohmann::ordered_json ledger_json(const Tally& tally) {
    nlohmann::ordered_json ends;
    for (const End end : kEnds) ends[to_string(end)] = tally.ended_umol_s(end);
    return {{"photons", tally.sent()}, {"sent_umol_s", tally.sent_umol_s()}, {"ends_umol_s", ends}};
}

void print_ledger(const Tally& tally) {
    const double sent = tally.sent_umol_s();
    fmt::print("\nWhere the light of the lamps goes\n  {:<28} {:>12} {:>9} {:>14}\n", "", "umol/s",
               "share", "photons");
    fmt::print("  {:<28} {:>12.4f} {:>9} {:>14}\n", "sent by the lamps", sent, "100.000 %",
               tally.sent());
    std::uint64_t ended = 0;
    for (const End end : kEnds) {
        const double flux = tally.ended_umol_s(end);
        ended += tally.ended(end);
        if (end == End::followed && tally.ended(end) == 0) continue;
        fmt::print("  {:<28} {:>12.4f} {:>9} {:>14}\n", to_string(end), flux,
                   fmt::format("{:.3f} %", sent > 0.0 ? 100.0 * flux / sent : 0.0),
                   tally.ended(end));
    }
    fmt::print("  {:<28} {:>12} {:>9} {:>14}\n", "sent minus all of these", "", "",
               static_cast<std::int64_t>(tally.sent() - ended));
}

/// The middle one of the bed cells' relative standard errors.
std::string noise_text(const std::vector<LightRow>& rows) {
    std::vector<double> noise;
    for (const LightRow& row : rows)
        if (row.kind == "bed" && row.ppfd_umol_m2_s > 0.0)
            noise.push_back(row.stderr_umol_m2_s / row.ppfd_umol_m2_s);
    if (noise.empty()) return "  no photon reached the sand\n";
    const auto middle = noise.begin() + static_cast<std::ptrdiff_t>(noise.size() / 2);
    std::nth_element(noise.begin(), middle, noise.end());
    return fmt::format("  standard error of a bed cell: {:.2g} % of its light (median)\n",
                       100.0 * *middle);
}

void print_text(const Prepared& prepared, const BedGrid& grid, const Tally& tally,
                const std::vector<LightRow>& rows) {
    fmt::print("{}", lamp_output_text(prepared.layout(), prepared.calibration));
    std::vector<double> bed;
    for (const LightRow& row : rows) {
        if (row.kind == "bed")
            bed.push_back(row.ppfd_umol_m2_s);
        else
            fmt::print(
                "At {} cm: {:.5g} +- {:.2g} umol m-2 s-1, {:.4g} mol m-2 a day (a level disc of 3 "
                "cm facing up)\n",
                row.name, row.ppfd_umol_m2_s, row.stderr_umol_m2_s, row.dli_mol_m2_d);
    }
    if (rows.size() == bed.size()) fmt::print("\n{}", bed_map_text(grid, bed));
    fmt::print("{}", noise_text(rows));
    print_ledger(tally);
}

int run(const Arguments& arguments) {
    catch_interrupts();
    const auto csv = output_option(arguments, "csv");
    const PhotonCount base{photons_option(arguments), arguments.value<Count>("seed").value, 1.0};
    const Prepared prepared = prepare(arguments);
    const Layout& layout = prepared.layout();
    require_beginning(layout, "reference");
    const auto asked =
        arguments.maybe<std::vector<std::string>>("at").value_or(std::vector<std::string>{});
    std::vector<TallyDisc> sensors;
    sensors.reserve(asked.size());
    for (const std::string& text : asked) sensors.push_back({point_in_water(layout.tank, text)});

    const BedGrid grid = bed_grid_of(layout.tank);
    const PhotonTransport tracer(scene_of(layout, baseline_reef(layout)), grid, sensors);
    PhotonCount count = base;
    count.output_scale = prepared.calibration.output_scale;
    Pool pool(arguments.threads());
    ProgressBar bar("photons", arguments.quiet());
    const auto tally = tracer.run(count, pool.parallel_for(), [&](double done) {
        bar.show(done, fmt::format("{:.0f} %", 100.0 * done));
        return !interrupted();
    });
    if (!tally) {
        print_message("bedshade: interrupted\n");
        return kInterrupted;
    }
    std::vector<LightRow> rows = bed_rows(layout, grid, *tally);
    for (LightRow& row : point_rows(layout, tracer, *tally, asked)) rows.push_back(std::move(row));
    if (csv) write_text(*csv, csv_text(rows, true));
    if (arguments.json()) {
        auto document = rows_document(prepared, rows);
        document["ledger"] = ledger_json(*tally);
        fmt::print("{}", json_text(document));
        return kDone;
    }
    print_text(prepared, grid, *tally, rows);
    if (csv && !arguments.quiet()) fmt::print("All rows are in {}.\n", escape_control(*csv));
    return kDone;
}

}  // namespace

const Command kReferenceCommand = {
    "reference",
    "LAYOUT",
    "the same light by Monte Carlo, slowly: a check of `light`",
    "Traces single photons from the lamps and counts where they land: light on day 0, lamps at\n"
    "plateau, with its standard error, on bed cells (means over the cell) and at points (means\n"
    "over a level disc of 3 cm). Colonies block light, but have no rows of their own.\n"
    "Four times the photons halve the standard error.\n"
    "  bedshade reference my_tank.toml\n"
    "  bedshade reference my_tank.toml --photons 20000000 --csv counted.csv",
    [](po::options_description& options) {
        options.add_options()("photons",
                              po::value<Count>()->default_value({kDefaultPhotons})->value_name("N"),
                              "photons to trace, at least")(
            "at", po::value<std::vector<std::string>>()->value_name("X,Y,Z"),
            "a point in cm, for a level sensor facing up (may be repeated)")(
            "csv", po::value<std::string>()->value_name("FILE"), "write every row there")(
            "seed", po::value<Count>()->default_value({kDefaultSeed})->value_name("S"),
            "seed of the random numbers")("force", "replace an existing file");
    },
    run,
    kTakesAll};

}  // namespace bedshade
