// bedshade fit: what was measured becomes a layout that says how well it is known.
#include <cmath>
#include <nlohmann/json.hpp>

#include "sim/input/layout/layout_reader.h"

#include "tests/layout_texts.h"
#include "tests/tools/program.h"

using namespace bedshade::test;

namespace {

const std::string kMeter = BEDSHADE_SOURCE_DIR "/scenarios/ledge_meter.csv";

/// A quick tank: one coral, one lamp, a name that TOML must quote.
const std::string kTank = R"(format = 1
[season]
start = 2027-01-01
months = 6
[tank]
length = "40 cm"
width = "30 cm"
water_depth = "30 cm"
[[lamp]]
name = 'the "old" lamp \ left'
position = "20 15 cm"
height = "15 cm"
watts = 20
efficacy = 2.0
[[colony]]
name = "plate"
taxon = "montipora-capricornis"
position = "20 15 8 cm"
diameter = "6 cm"
settling = 0
)";

}  // namespace

TEST_CASE("a fit is written as a layout that extends the first, and reads back") {
    const Folder folder;
    const std::string tank = folder.file("tank.toml"), meter = folder.file("meter.csv");
    const std::string ruler = folder.file("ruler.csv"), out = folder.file("fitted.toml");
    write(tank, kTank);
    write(meter, "x_cm,y_cm,z_cm,ppfd_umol_m2_s\n5,5,2,60\n20,5,20,260\n35,25,10,110\n");
    write(ruler, "colony,on,diameter_cm\nplate,2027-05-01,8.4\n");
    const Ran ran =
        run("fit " + tank + " --readings " + meter + " --growth " + ruler + " --out " + out);
    INFO(ran.err);
    REQUIRE(ran.code == 0);
    CHECK(holds(ran.out, "Light, from 3 readings"));
    CHECK(holds(ran.out, "'plate' "));
    CHECK(holds(ran.out, "The fitted layout is in "));

    const bedshade::Layout before = bedshade::read_layout(tank).layout;
    const bedshade::Layout after = bedshade::read_layout(out).layout;
    CHECK(after.lamps[0].name == before.lamps[0].name);
    CHECK(after.lamps[0].photon_flux_umol_s != before.lamps[0].photon_flux_umol_s);
    CHECK(after.colonies[0].growth_known_to > 1.0);
    CHECK(after.measured.output_known_to > 1.0);
    CHECK_FALSE(after.season.use_readings);
    // Fitted again, it is found to fit.
    const auto again = nlohmann::json::parse(run("fit " + out + " --json --readings " + meter).out);
    CHECK(again["light"]["output"]["factor"].get<double>() == Approx(1.0).epsilon(0.15));
    CHECK(again["growth"].is_null());
    const auto grown = nlohmann::json::parse(run("fit " + out + " --json --growth " + ruler).out);
    CHECK(grown["light"].is_null());
    const auto& plate = grown["growth"]["colonies"][0];
    CHECK(plate["name"] == "plate");
    CHECK(plate["factor"].get<double>() == Approx(1.0).epsilon(0.15));
    CHECK(plate["known_to"] <= plate["known_to_before"]);
    const auto& measured = grown["growth"]["diameters"][0];
    CHECK(measured["date"] == "2027-05-01");
    CHECK(measured["measured_cm"].get<double>() == Approx(8.4));
    CHECK(measured["after_cm"].get<double>() ==
          Approx(8.4).margin(std::abs(measured["before_cm"].get<double>() - 8.4) + 1e-9));
    CHECK(run("fit " + tank + " --readings " + meter + " --out " + out).code == 2);
    CHECK(folder.entries() == 4);
}

TEST_CASE("an impossible fit is refused, and nothing is written") {
    const Folder folder;
    const std::string out = folder.file("fitted.toml"), broken = folder.file("broken.csv");
    write(broken, "x_cm,y_cm,z_cm,ppfd_umol_m2_s\n500,30,2,90\n");
    const std::string fit = "fit " + kStarving + " --out " + out;
    check_refused(fit, "nothing was measured: give --readings, --growth, or both");
    check_refused(fit + " --readings " + broken, "broken.csv:2:1: error: x_cm is 500");
    check_refused(fit + " --readings " + folder.file("none.csv"), "none.csv");
    check_refused(fit + " --growth " + kMeter, "'x_cm' is not a column of this table");
    check_refused(fit + " --readings " + kMeter + " --meter-scatter 0",
                  "--meter-scatter is 0; allowed: 0.1 to 50");
    const std::string dark = folder.file("dark.toml"), one = folder.file("one.csv");
    write(dark, "format = 1\n" + kSmallTank);
    write(one, "x_cm,y_cm,z_cm,ppfd_umol_m2_s\n15,10,2,90\n");
    check_refused("fit " + dark + " --readings " + one + " --out " + out,
                  "the layout has no lamp for readings to calibrate");
    CHECK(folder.entries() == 3);
}
