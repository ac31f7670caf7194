// The light field against Monte Carlo estimates: tables stored in tests/monte_carlo, made by
//   bedshade reference LAYOUT --photons 16000000 --csv TABLE.csv
// and, under [long], counted anew, the demonstration too.
#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <fstream>
#include <sstream>
#include <string>

#include "model/monte_carlo/photon_transport.h"

#include "sim/input/layout/layout_reader.h"
#include "sim/run/reef_light.h"

using namespace bedshade;

namespace {

struct Counted {
    double ppfd_umol_m2_s = 0.0, stderr_umol_m2_s = 0.0;
};

/// Rows of bed cells, in the order of the grid. Columns as `bedshade reference` writes them.
std::vector<Counted> table(const std::string& path) {
    std::ifstream file(path);
    REQUIRE(file);
    std::vector<Counted> rows;
    std::string line, field;
    std::getline(file, line);
    while (std::getline(file, line)) {
        std::istringstream fields(line);
        std::vector<std::string> row;
        while (std::getline(fields, field, ',')) row.push_back(field);
        REQUIRE(row.size() >= 10);
        rows.push_back({std::stod(row[5]), std::stod(row[9])});
    }
    return rows;
}

/// Mean deviation beyond three standard errors, as a share of the mean; and the share of cells
/// within 5 % or 1 % of the open bed's mean, whichever is more.
struct Deviation {
    double mean = 0.0, within = 0.0;
    double whole_bed = 0.0;  // of all its light together: the balance of what the lamps send in
};

Deviation deviation(const std::vector<double>& found, const std::vector<Counted>& counted) {
    REQUIRE(found.size() == counted.size());
    std::vector<double> sorted;
    for (const Counted& c : counted) sorted.push_back(c.ppfd_umol_m2_s);
    std::sort(sorted.rbegin(), sorted.rend());
    const std::size_t half = sorted.size() / 2;
    double open = 0.0, all = 0.0, all_found = 0.0, beyond = 0.0, within = 0.0;
    for (std::size_t i = 0; i < half; ++i) open += sorted[i] / static_cast<double>(half);
    for (std::size_t i = 0; i < found.size(); ++i) {
        const double light = counted[i].ppfd_umol_m2_s;
        const double off =
            std::max(0.0, std::abs(found[i] - light) - 3.0 * counted[i].stderr_umol_m2_s);
        all += light;
        all_found += found[i];
        beyond += off;
        within += off <= std::max(0.05 * light, 0.01 * open) ? 1.0 : 0.0;
    }
    return {beyond / all, within / static_cast<double>(found.size()), all_found / all - 1.0};
}

std::vector<double> bed_light(const Layout& layout) {
    ReefLight light(layout, 1.0);
    return summed_over_lamps(light.baseline().bed, light.grid().size());
}

Layout layout_in(const std::string& file) {
    return read_layout(BEDSHADE_SOURCE_DIR + ("/" + file)).layout;
}

/// The bed as `photons` photons find it.
std::vector<Counted> counted_anew(const Layout& layout, std::uint64_t photons) {
    const monte_carlo::PhotonTransport tracer(monte_carlo::scene_of(layout, baseline_reef(layout)),
                                              bed_grid_of(layout.tank), {});
    const auto tally = tracer.run({photons, 7, 1.0});
    std::vector<Counted> cells;
    for (std::size_t i = 0; i < bed_grid_of(layout.tank).size(); ++i) {
        const monte_carlo::LightEstimate light = tally.value().light_at(i);
        cells.push_back({light.ppfd_umol_m2_s, light.stderr_umol_m2_s});
    }
    return cells;
}

}  // namespace

TEST_CASE("the light field holds to counted photons") {
    // Pale sand and a painted wall; black all over, with a canopy; glass all round,
    // with a canopy; a high rim with a lamp that reaches past it.
    const std::string name = GENERATE("white_box", "black_box", "glass_box", "rimmed_box");
    CAPTURE(name);
    const std::string file = "tests/monte_carlo/" + name;
    const Deviation off = deviation(bed_light(layout_in(file + ".toml")),
                                    table(BEDSHADE_SOURCE_DIR "/" + file + ".csv"));
    CHECK(off.mean <= 0.02);
    CHECK(off.within >= 0.95);
    CHECK(std::abs(off.whole_bed) <= 0.005);
}

TEST_CASE("the light field holds to photons counted anew", "[.][long]") {
    const std::string file =
        GENERATE("tests/monte_carlo/white_box.toml", "tests/monte_carlo/glass_box.toml",
                 "scenarios/ledge_over_bed.toml", "scenarios/ledge_clear_of_bed.toml");
    CAPTURE(file);
    const Layout layout = layout_in(file);
    const Deviation off = deviation(bed_light(layout), counted_anew(layout, 30'000'000));
    CHECK(off.mean <= 0.02);
    CHECK(off.within >= 0.95);
    CHECK(std::abs(off.whole_bed) <= 0.005);
}
