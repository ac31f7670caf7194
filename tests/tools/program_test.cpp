// The program as its user meets it: what it prints, where, and with which exit code.
#include "tests/tools/program.h"

#include <array>
#include <cmath>
#include <nlohmann/json.hpp>

using namespace bedshade::test;

namespace {

/// A black tank whose water only bends light, under a lamp that continues after this.
const std::string kBlackTank = R"(format = 1
[season]
start = 2027-01-01
[tank]
length = "120 cm"
width = "60 cm"
water_depth = "50 cm"
walls = "black"
[water]
index = 1.34
attenuation = 0.0
[[lamp]]
name = "lamp"
position = "90 30 cm"
height = "20 cm"
photon_flux = 100
)";

}  // namespace

TEST_CASE("light at a point under a point lamp agrees with the closed form") {
    // A point source 0.20 m over water 0.50 m deep, index 1.34, 0.30 m to the side, spreads to
    // E/I = 2.357841568 1/m2, the surface's loss included (Snell and Fresnel; worked out apart from
    // this program by vector ray tracing of a ray tube, agreeing to 4e-13).
    // Lambertian, 100 umol/s: I = 100/pi cos(28.57588 deg).
    const Folder folder;
    const std::string layout = folder.file("point.toml");
    write(layout, kBlackTank + R"(shape = "point"
day = { on = "10:00", off = "20:00", ramp = "0 h" }
)");
    const Ran ran = run("light --json --at 60,30,0 " + layout);
    REQUIRE(ran.code == 0);
    const auto rows = nlohmann::json::parse(ran.out)["rows"];
    const double pi = std::acos(-1.0);
    const double air = 28.57588 * pi / 180.0;
    const double expected = 100.0 / pi * std::cos(air) * 2.357841568;
    CHECK(rows.back()["kind"] == "point");
    CHECK(rows.back()["ppfd_umol_m2_s"].get<double>() == Approx(expected).epsilon(1e-6));
    CHECK(rows.back()["dli_mol_m2_d"].get<double>() == Approx(expected * 0.036).epsilon(1e-6));
}

TEST_CASE("light under a lamp with a photometric file agrees with the closed form") {
    // The point source of the test above, as strong every way: 100 umol/s over 4 pi, half of it up.
    const Folder folder;
    const std::string layout = folder.file("web.toml");
    write(folder.file("even.ies"),
          "IES:LM-63-2019\nTILT=NONE\n1 -1 1 2 1 1 2 0 0 0\n"
          "1 1.10000 50\n0 180\n0\n7 7\n");
    write(layout, kBlackTank + "photometry = \"even.ies\"\n");
    const std::string words = "light --json --at 60,30,0 " + layout;
    const Ran ran = run(words);
    REQUIRE(ran.code == 0);
    const double expected = 100.0 / (4.0 * std::acos(-1.0)) * 2.357841568;
    const auto rows = nlohmann::json::parse(ran.out)["rows"];
    CHECK(rows.back()["ppfd_umol_m2_s"].get<double>() == Approx(expected).epsilon(1e-6));
    CHECK(holds(ran.out, "50.0 % of the light of lamp"));

    write(folder.file("even.ies"),
          "IES:LM-63-2019\nTILT=NONE\n1 -1 1 2 1 1 2 0 0 0\n"
          "1 1.10000 50\n0 180\n0\n7\n");
    const Ran cut = run(words);
    CHECK(cut.code == 2);
    CHECK(holds(cut.err,
                "even.ies:7: error: the file ends where candela value 2 of 2 should follow"));
}

TEST_CASE("check lists the contents of a layout and compares the meter with the model") {
    const Ran ran = run("check " + kStarving);
    CHECK(ran.code == 0);
    CHECK(holds(ran.out, "colonies (9 on the bed)"));
    CHECK(holds(ran.out, "meter/model"));
    CHECK(holds(ran.out, "palytoxin"));
}

TEST_CASE("without readings the summary opens with the uncertainty of lamp output") {
    const Folder folder;
    const std::string change = folder.file("no_readings.toml");
    write(change,
          "format = 1\n[season]\nstart = 2027-01-01\n[tank]\nlength = \"60 cm\"\nwidth = \"40 "
          "cm\"\nwater_depth = \"40 cm\"\n");
    const Ran ran = run("forecast --quiet --months 1 " + change);
    CHECK(ran.code == 0);
    CHECK(ran.out.rfind("Lamp output is assumed", 0) == 0);
    CHECK(holds(ran.out, "uncertain by about a year"));
}

TEST_CASE("a new layout is written, checks and runs") {
    const Folder folder;
    const std::string layout = folder.file("new.toml");
    CHECK(run("new " + layout + " --length '90 cm' --width '45 cm' --depth '45 cm'").code == 0);
    CHECK(run("check " + layout).code == 0);
    CHECK(run("forecast --quiet --months 2 " + layout).code == 0);
    const Ran again = run("new " + layout + " --length '90 cm' --width '45 cm' --depth '45 cm'");
    CHECK(again.code == 2);
    CHECK(holds(again.err, "--force"));
    const Ran bare =
        run("new " + folder.file("x.toml") + " --length 90 --width '45 cm' --depth '45 cm'");
    CHECK(bare.code == 2);
    CHECK(holds(bare.err, "--length"));
    const Ran tiny =
        run("new " + folder.file("y.toml") + " --length '3 cm' --width '45 cm' --depth '45 cm'");
    CHECK(tiny.code == 2);
    CHECK(holds(tiny.err, "--length is 3 cm; allowed: 5 to 2000 cm"));
    CHECK_FALSE(fs::exists(folder.file("y.toml")));
}

TEST_CASE("traits lists every row, and one in full by its trade name") {
    const Ran all = run("traits");
    CHECK(all.code == 0);
    CHECK(holds(all.out, "montipora-capricornis"));
    const Ran one = run("traits 'plating montipora'");
    CHECK(one.code == 0);
    CHECK(holds(one.out, "45 mm/yr (20 to 80)"));
    const Ran none = run("traits montipora-capricornes");
    CHECK(none.code == 2);
    CHECK(holds(none.err, "did you mean 'montipora-capricornis'"));
}

TEST_CASE("invalid requests give exit code 2 and write nothing") {
    const Folder folder;
    const auto refused = [&](const std::string& words, const std::string& part) {
        const Ran ran = run(words);
        INFO(words << "\n" << ran.err);
        CHECK(ran.code == 2);
        CHECK(holds(ran.err, part));
    };
    refused("", "usage: bedshade");
    refused("forcast x.toml", "did you mean 'forecast'");
    refused("forecast --members 0 " + kStarving, "--members is 0; allowed: 1 to 1000");
    refused("forecast", "layout file is missing");
    refused("forecast a.toml b.toml", "one layout file");
    refused("forecast " + folder.file("none.toml"), "none.toml");
    refused("forecast --months 0 " + kStarving, "1 to 240");
    refused("forecast --threads 0 " + kStarving, "1 to 256");
    refused("forecast --speed 3 " + kStarving, "--speed");
    refused("forecast --out " + folder.file("no/such/run.h5") + " " + kStarving, "run.h5");
    refused("forecast --page " + folder.file("no/such/run.html") + " " + kStarving, "run.html");
    refused(
        "forecast --out " + folder.file("x") + " --page " + folder.file("./x") + " " + kStarving,
        "--out and --page both name");
    refused("replay", "trajectory file is missing");
    refused("replay " + kStarving, "--out is missing");
    refused("light --at 1,2 " + kStarving, "60,30,0");
    refused("light --at 500,2,3 " + kStarving, "outside the water");
    refused("check " + folder.file(""), "");
    CHECK(folder.entries() == 0);
}

TEST_CASE("a full disk is reported and leaves nothing under the final name") {
    const Ran ran = run("light --csv /dev/full --force " + kStarving);
    CHECK((ran.code == 1 || ran.code == 2));
    const Folder folder;
    for (const std::string words : {"traits", "traits --help", "--help", "--version", "--man"}) {
        INFO(words);
        const std::string line =
            BEDSHADE_PROGRAM " " + words + " >/dev/full 2>" + folder.file("err");
        CHECK(WEXITSTATUS(std::system(line.c_str())) == 1);
        CHECK(text_of(folder.file("err")) ==
              "bedshade: cannot write standard output: No space left on device\n");
    }
}

TEST_CASE("light says how far the tank departs from the inverse-square law") {
    const Ran said = run("light " + kStarving);
    REQUIRE(said.code == 0);
    CHECK(holds(said.out, "The inverse-square law, scaled to"));
    const Ran ran = run("light --json " + kStarving);
    const auto law = nlohmann::json::parse(ran.out)["inverse_square"];
    CHECK(law["lamp"] == "left lamp");
    CHECK(law["reference"]["z_cm"] == Approx(45.0));
    REQUIRE(law["spots"].size() == 2);
    for (const auto& spot : law["spots"]) {
        CHECK(spot["law_umol_m2_s"].get<double>() > 0.0);
        CHECK(spot["ppfd_umol_m2_s"].get<double>() > 0.0);
    }
    CHECK(law["spots"][0]["ppfd_umol_m2_s"].get<double>() >
          law["spots"][1]["ppfd_umol_m2_s"].get<double>());
}

TEST_CASE("the rule is not tested at a spot under a coral") {
    // The cell's middle lies under the coral, and its edge in the light.
    const Folder folder;
    const std::string layout = folder.file("new.toml");
    REQUIRE(run("new " + layout + " --length '120 cm' --width '60 cm' --depth '55 cm'").code == 0);
    const Ran ran = run("light --json " + layout);
    const auto rule = nlohmann::json::parse(ran.out)["inverse_square"];
    REQUIRE(rule["spots"].size() == 2);
    CHECK(rule["spots"][1]["ppfd_umol_m2_s"] > 10.0);
}

TEST_CASE("Monte Carlo light has the columns of light and agrees where both are exact") {
    // Black walls and black sand: all light comes straight, and both commands have all of it. The
    // light field takes one index for all colours, which is less than 0.5 % off.
    const Folder folder;
    const std::string layout = folder.file("black.toml");
    write(layout, R"(format = 1
[season]
start = 2027-01-01
[tank]
length = "60 cm"
width = "40 cm"
water_depth = "40 cm"
walls = "black"
[substrate]
reflectance = 0.0
[[lamp]]
name = "lamp"
position = "25 20 cm"
height = "15 cm"
shape = "rectangle"
size = "20 10 cm"
tilt = "20 deg"
azimuth = "30 deg"
photon_flux = 100
spectrum = { "450 nm" = 0.6, "white 10000 K" = 0.4 }
day = { on = "10:00", off = "20:00", ramp = "0 h" }
)");
    const std::string points = " --at 30,20,0 --at 10,30,15 ";
    REQUIRE(run("light --csv " + folder.file("l.csv") + points + layout).code == 0);
    const Ran ran = run("reference --quiet --photons 1000000 --threads 1 --csv " +
                        folder.file("r.csv") + points + layout);
    REQUIRE(ran.code == 0);
    CHECK(ran.err.empty());
    CHECK(holds(ran.out, "sent minus all of these"));

    std::ifstream light(folder.file("l.csv")), counted(folder.file("r.csv"));
    std::string light_line, counted_line;
    std::getline(light, light_line);
    std::getline(counted, counted_line);
    CHECK(counted_line == light_line + ",stderr_umol_m2_s");
    // Values are counted from the end of a line, since the name of a point holds commas.
    const auto field = [](const std::string& line, std::size_t from_end) {
        std::size_t end = line.size(), begin = line.rfind(',');
        for (; from_end > 1; --from_end) {
            end = begin;
            begin = line.rfind(',', end - 1);
        }
        return line.substr(begin + 1, end - begin - 1);
    };
    double light_sum = 0.0, counted_sum = 0.0;
    int rows = 0;
    while (std::getline(light, light_line) && std::getline(counted, counted_line)) {
        const std::string ppfd = field(light_line, 4);
        const std::string before = light_line.substr(0, light_line.find("," + ppfd + ","));
        CHECK(counted_line.rfind(before + ",", 0) == 0);
        const double expected = std::stod(ppfd), found = std::stod(field(counted_line, 5));
        const double error = std::stod(field(counted_line, 1));
        CAPTURE(light_line, counted_line);
        CHECK(std::abs(found - expected) < 4.0 * error + 0.02 * expected);
        CHECK(std::stod(field(counted_line, 4)) == Approx(found * 0.036).epsilon(1e-6));
        light_sum += expected;
        counted_sum += found;
        ++rows;
    }
    CHECK(rows == 24 * 16 + 2);
    CHECK_FALSE(std::getline(counted, counted_line));
    CHECK(counted_sum == Approx(light_sum).epsilon(0.01));

    SECTION("threads change nothing") {
        REQUIRE(run("reference --quiet --photons 1000000 --threads 2 --csv " +
                    folder.file("r2.csv") + points + layout)
                    .code == 0);
        CHECK(text_of(folder.file("r2.csv")) == text_of(folder.file("r.csv")));
    }
    SECTION("--json is one document with the ledger") {
        const Ran json = run("reference --json --photons 20000 " + layout);
        REQUIRE(json.code == 0);
        const auto ledger = nlohmann::json::parse(json.out)["ledger"];
        double ended = 0.0;
        for (const auto& end : ledger["ends_umol_s"]) ended += end.get<double>();
        CHECK(ended == Approx(ledger["sent_umol_s"].get<double>()).epsilon(1e-9));
        CHECK(ledger["sent_umol_s"].get<double>() == Approx(100.0).epsilon(1e-9));
    }
    SECTION("what cannot be counted is refused") {
        CHECK(run("reference --photons 10 " + layout).code == 2);
        CHECK(run("reference --at 500,2,3 " + layout).code == 2);
        CHECK(run("reference --csv " + folder.file("r.csv") + " " + layout).code == 2);
    }
}

TEST_CASE("a Monte Carlo run can be interrupted") {
    const std::string interrupt = "sh -c '\"$@\" & sleep 1; kill -INT $!; wait $!' sh";
    const Ran ran =
        run("reference --photons 2000000000 --quiet --threads 1 " + kStarving, interrupt);
    CHECK(ran.code == 130);
    CHECK(holds(ran.err, "interrupted"));
}
