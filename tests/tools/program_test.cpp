// The program as its user meets it: what it prints, where, and with which exit code.
#include <array>
#include <catch2/catch.hpp>
#include <cmath>
#include <cstdio>
#include <filesystem>
#include <fstream>
#include <nlohmann/json.hpp>
#include <sys/wait.h>

#include "tests/expected_messages.h"

namespace {

using bedshade::test::text_of;

namespace fs = std::filesystem;

const std::string kStarving = BEDSHADE_SOURCE_DIR "/scenarios/ledge_over_bed.toml";
const std::string kClear = BEDSHADE_SOURCE_DIR "/scenarios/ledge_clear_of_bed.toml";

/// A black tank whose water only bends light, under a lamp that goes on after this.
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

/// A folder that is gone again when the test ends.
class Folder {
  public:
    Folder() {
        std::string name = (fs::temp_directory_path() / "bedshade_XXXXXX").string();
        REQUIRE(mkdtemp(name.data()) != nullptr);
        path_ = name;
    }
    ~Folder() { fs::remove_all(path_); }
    Folder(const Folder&) = delete;
    Folder& operator=(const Folder&) = delete;

    std::string file(const std::string& name) const { return (path_ / name).string(); }
    std::size_t entries() const {
        return static_cast<std::size_t>(std::distance(fs::directory_iterator(path_), {}));
    }

  private:
    fs::path path_;
};

struct Ran {
    int code = -1;
    std::string out, err;
};

/// Where the programs of these tests keep their flow fields.
const std::string& cache() {
    static const Folder folder;
    static const std::string path = folder.file("cache");
    return path;
}

/// Runs `bedshade WORDS` through the shell.
Ran run(const std::string& words, const std::string& wrapped = "") {
    const Folder folder;
    const std::string line = "BEDSHADE_CACHE=" + cache() + " " + wrapped +
                             " " BEDSHADE_PROGRAM " " + words + " >" + folder.file("out") + " 2>" +
                             folder.file("err");
    const int status = std::system(line.c_str());
    return {WIFEXITED(status) ? WEXITSTATUS(status) : -1, text_of(folder.file("out")),
            text_of(folder.file("err"))};
}

bool holds(const std::string& text, const std::string& part) {
    return text.find(part) != std::string::npos;
}

void write(const std::string& path, const std::string& text) { std::ofstream(path) << text; }

}  // namespace

TEST_CASE("the starving layout names the month, the plate, the bed coral and the share") {
    const Folder folder;
    const std::string out = folder.file("a.h5");
    const Ran ran = run("forecast " + kStarving + " --out " + out);
    CHECK(ran.code == 0);
    CHECK(holds(ran.out, "In month "));
    CHECK(holds(ran.out, "'ledge plate' (Montipora capricornis) starves 'disc under ledge'"));
    CHECK(holds(ran.out, "% of its light"));
    CHECK(fs::exists(out));
    CHECK(folder.entries() == 1);

    SECTION("an output that is there is kept without --force") {
        const std::string before = text_of(out);
        const Ran again = run("forecast " + kStarving + " --out " + out);
        CHECK(again.code == 2);
        CHECK(holds(again.err, "--force"));
        CHECK(text_of(out) == before);
    }
    SECTION("the same run gives the same bytes at other thread counts") {
        const Ran again =
            run("forecast " + kStarving + " --threads 1 --out " + folder.file("b.h5"));
        CHECK(again.code == 0);
        CHECK(text_of(folder.file("b.h5")) == text_of(out));
    }
    SECTION("and when all light is traced anew each step") {
        const Ran full = run("forecast " + kStarving + " --full --out " + folder.file("f.h5"));
        CHECK(full.code == 0);
        CHECK(text_of(folder.file("f.h5")) == text_of(out));
    }
}

TEST_CASE("the layout placed better starves nothing on the bed") {
    const Ran ran = run("forecast --json " + kClear);
    REQUIRE(ran.code == 0);
    const auto document = nlohmann::json::parse(ran.out);
    CHECK(document["format"] == 1);
    CHECK(document["colonies"].size() >= 15);
    for (const auto& flag : document["flags"])
        CHECK_FALSE((flag["flag"] == "light-short" || flag["flag"] == "starved"));
}

TEST_CASE("forecast --json is one document with what the contract says") {
    const Ran ran = run("forecast --json " + kStarving);
    REQUIRE(ran.code == 0);
    CHECK(ran.err.empty());
    const auto document = nlohmann::json::parse(ran.out);
    for (const char* key : {"layout", "months", "step_days", "seed", "members", "flags", "colonies",
                            "files", "warnings"})
        CHECK(document.contains(key));
    REQUIRE(!document["flags"].empty());
    const auto flag = document["flags"][0];
    for (const char* key :
         {"flag", "month", "date", "colony", "taxon", "culprit", "culprit_kind", "share",
          "probability", "probability_by_month", "month_p10", "month_p50", "month_p90", "detail"})
        CHECK(flag.contains(key));
    CHECK(flag["probability_by_month"].size() == document["months"]);
    for (const char* key :
         {"ppfd_umol_m2_s", "dli_mol_m2_d", "need_dli_mol_m2_d", "diameter_cm", "live"})
        CHECK(document["colonies"][0]["start"].contains(key));
}

TEST_CASE("exit 3 tells that a flag was raised, where that was asked for") {
    CHECK(run("forecast --quiet --fail-on-flag " + kStarving).code == 3);
}

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

TEST_CASE("check says what a layout holds and sets the meter beside the model") {
    const Ran ran = run("check " + kStarving);
    CHECK(ran.code == 0);
    CHECK(holds(ran.out, "colonies (10 on the bed)"));
    CHECK(holds(ran.out, "meter/model"));
    CHECK(holds(ran.out, "palytoxin"));
}

TEST_CASE("without readings the summary opens with how little lamp output is known") {
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

TEST_CASE("what cannot be done is said, with exit 2 and nothing written") {
    const Folder folder;
    const auto refused = [&](const std::string& words, const std::string& part) {
        const Ran ran = run(words);
        INFO(words << "\n" << ran.err);
        CHECK(ran.code == 2);
        CHECK(holds(ran.err, part));
    };
    refused("", "usage: bedshade");
    refused("forcast x.toml", "did you mean 'forecast'");
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
        "the same file");
    refused("replay", "trajectory file is missing");
    refused("replay " + kStarving, "--out is missing");
    refused("light --at 1,2 " + kStarving, "60,30,0");
    refused("light --at 500,2,3 " + kStarving, "outside the water");
    refused("check " + folder.file(""), "");
    CHECK(folder.entries() == 0);
}

TEST_CASE("a full disk is told plainly and leaves nothing behind under the final name") {
    const Ran ran = run("light --csv /dev/full --force " + kStarving);
    CHECK((ran.code == 1 || ran.code == 2));
    const int status = std::system(BEDSHADE_PROGRAM " traits >/dev/full 2>/dev/null");
    CHECK(WEXITSTATUS(status) == 1);
}

TEST_CASE(
    "an ensemble is the same at any thread count, from its own file, and told with its doubt") {
    const Folder folder;
    const std::string one = folder.file("one.h5"), two = folder.file("two.h5");
    const std::string box = BEDSHADE_SOURCE_DIR "/tests/counted/black_box.toml";
    const std::string line = "forecast --quiet --months 2 --members 4 " + box;
    const Ran told = run(line + " --threads 1 --out " + one);
    REQUIRE(told.code == 0);
    CHECK(holds(told.out, "How sure this is (4 runs"));
    REQUIRE(run(line + " --threads 2 --out " + two).code == 0);
    CHECK(text_of(one) == text_of(two));
    const Ran again = run("rerun --quiet " + one + " --out " + folder.file("again.h5"));
    CHECK(holds(again.out, "are the same, byte for byte."));
    CHECK(holds(run("describe " + one).out, "4 members"));

    // The first member is the forecast without others.
    const auto alone = nlohmann::json::parse(run("forecast --json --months 2 " + box).out);
    const auto all =
        nlohmann::json::parse(run("forecast --json --months 2 --members 4 " + box).out);
    CHECK(alone["members"] == 1);
    CHECK(all["members"] == 4);
    CHECK(alone["colonies"] == all["colonies"]);
    REQUIRE(all["flags"].size() >= alone["flags"].size());
    for (std::size_t i = 0; i < alone["flags"].size(); ++i) {
        CHECK(alone["flags"][i]["month"] == all["flags"][i]["month"]);
        CHECK(alone["flags"][i]["probability"] == 1.0);
        CHECK(all["flags"][i]["probability"] >= 0.25);
    }
    const Ran none = run("forecast --members 0 " + box);
    CHECK(none.code == 2);
    CHECK(holds(none.err, "--members is 0; 1 to 1000 can be run"));
}

TEST_CASE("a season is compared with itself after a change") {
    const Folder folder;
    const std::string same = folder.file("same.toml"), dimmer = folder.file("dimmer.toml");
    write(same, "[[pump]]\nname = \"left pump\"\nflow = \"12000 L/h\"\n");
    write(dimmer, "[[lamp]]\nname = \"left lamp\"\noutput = 0.05\n");
    const Ran twins = run("compare --quiet --months 2 " + kStarving + " " + same);
    REQUIRE(twins.code == 0);
    CHECK(holds(twins.out, "Nothing differs: both seasons are the same to the last bit."));

    const Ran darker = run("compare --quiet --months 2 " + kStarving + " " + dimmer);
    REQUIRE(darker.code == 0);
    CHECK(holds(darker.out, "  new    month 2"));
    CHECK(holds(darker.out, "too-dim: 'ledge plate'"));
    CHECK(holds(darker.out, "light (PPFD), umol m-2 s-1"));
    CHECK_FALSE(holds(darker.out, "drag of the flow"));

    const Ran document = run("compare --json --months 2 " + kStarving + " " + dimmer);
    REQUIRE(document.code == 0);
    const auto json = nlohmann::json::parse(document.out);
    CHECK(json["same"] == false);
    CHECK(json["flags"][0]["change"] == "new");
    CHECK(json["colonies"][0]["with"]["dli_mol_m2_d"] <
          json["colonies"][0]["without"]["dli_mol_m2_d"]);
}

TEST_CASE("a pump turned at the bed buries a coral, turned up and away it does not", "[.][long]") {
    const std::string scenarios = kStarving.substr(0, kStarving.rfind('/') + 1);
    const Ran at_bed =
        run("compare --quiet --months 5 " + kStarving + " " + scenarios + "pump_at_bed.toml");
    REQUIRE(at_bed.code == 0);
    CHECK(holds(at_bed.out, "buried: 'rubble polyps'"));
    CHECK(holds(at_bed.out, "thrown up by pump 'left pump'"));
    const Ran away =
        run("compare --quiet --months 5 " + kStarving + " " + scenarios + "pump_up_and_away.toml");
    REQUIRE(away.code == 0);
    CHECK_FALSE(holds(away.out, "buried"));
}

TEST_CASE("what cannot be compared is refused") {
    const Folder folder;
    const std::string broken = folder.file("broken.toml"), extending = folder.file("base.toml");
    write(broken, "[[pump]]\nname = \"left pump\"\nflow = 12000\n");
    write(extending, "extends = \"other.toml\"\n");
    for (const auto& [words, reason] :
         {std::pair{kStarving, std::string("a change file are needed; found 1 file")},
          {kStarving + " " + broken, std::string("broken.toml:3:8: error")},
          {kStarving + " " + extending, std::string("a change file cannot extend")},
          {kStarving + " " + folder.file("none.toml"), std::string("none.toml")}}) {
        const Ran refused = run("compare " + words);
        INFO(words << "\n" << refused.err);
        CHECK(refused.code == 2);
        CHECK(holds(refused.err, reason));
    }
}

#ifdef BEDSHADE_HAS_PAGE
TEST_CASE("a run becomes a page, from its file and straight away alike") {
    const Folder folder;
    const std::string run_file = folder.file("a.h5"), page = folder.file("a.html");
    const Ran ran = run("forecast --months 3 " + kStarving + " --out " + run_file + " --page " +
                        folder.file("straight.html"));
    REQUIRE(ran.code == 0);
    CHECK(holds(ran.out, "straight.html shows it"));
    REQUIRE(run("replay " + run_file + " --out " + page).code == 0);
    CHECK(holds(text_of(page), "\"title\":\"Ledge over the bed\""));
    CHECK(text_of(page) == text_of(folder.file("straight.html")));
    CHECK(folder.entries() == 3);

    SECTION("without a trajectory to keep, none is left") {
        REQUIRE(
            run("forecast --quiet --months 3 " + kStarving + " --page " + folder.file("alone.html"))
                .code == 0);
        CHECK(text_of(folder.file("alone.html")) == text_of(page));
        CHECK(folder.entries() == 4);
    }
    SECTION("a page that is there is kept without --force") {
        const Ran again = run("replay " + run_file + " --out " + page);
        CHECK(again.code == 2);
        CHECK(holds(again.err, "--force"));
        CHECK(run("replay --force " + run_file + " --out " + page).code == 0);
    }
}
#else
TEST_CASE("a program without the page says so, and leaves nothing behind") {
    const Folder folder;
    const std::string run_file = folder.file("a.h5"), page = folder.file("a.html");
    const auto missing = [&](const std::string& words) {
        const Ran ran = run(words);
        INFO(words << "\n" << ran.err);
        CHECK(ran.code == 1);
        CHECK(holds(ran.err, "built without the replay page (BEDSHADE_PAGE=OFF)"));
    };
    missing("forecast --months 240 " + kStarving + " --out " + run_file + " --page " + page);
    CHECK(folder.entries() == 0);
    REQUIRE(run("forecast --quiet --months 1 " + kStarving + " --out " + run_file).code == 0);
    missing("replay " + run_file + " --out " + page);
    CHECK(folder.entries() == 1);
}
#endif

TEST_CASE("a run that was kept is described, run again, exported, and told from what is none") {
    const Folder folder;
    const std::string run_file = folder.file("a.h5");
    REQUIRE(run("forecast --quiet --months 3 " + kStarving + " --out " + run_file).code == 0);

    SECTION("it is described, and comes out the same from its own file") {
        const Ran described = run("describe " + run_file);
        REQUIRE(described.code == 0);
        CHECK(holds(described.out, "a.h5: Ledge over the bed"));
        CHECK(holds(described.out, "seed 1, 1 member\n"));
        CHECK(holds(described.out, "17 corals, a bed of 48 x 24 cells"));
        CHECK(nlohmann::json::parse(run("describe --json " + run_file).out)["complete"] == true);
        const Ran again =
            run("rerun --quiet --threads 1 " + run_file + " --out " + folder.file("again.h5"));
        REQUIRE(again.code == 0);
        CHECK(holds(again.out, "are the same, byte for byte."));
        CHECK(text_of(folder.file("again.h5")) == text_of(run_file));
        CHECK(run("rerun " + run_file + " --out " + run_file).code == 2);
    }
    SECTION("it is exported into a new folder, never into one that is there") {
        const std::string tables = folder.file("tables");
        REQUIRE(run("export " + run_file + " --to csv --out " + tables).code == 0);
        CHECK(holds(text_of(tables + "/colonies.csv"), "\"disc under ledge\""));
        for (const auto& [words, reason] :
             {std::pair{" --to csv --out " + tables, "exists already"},
              {" --to xls --out " + folder.file("x"), "allowed: csv, gltf, vtk"},
              {" --to vtk --month 99 --out " + folder.file("x"), "month 99"},
              {" --to csv --month 1 --out " + folder.file("x"), "every frame"}}) {
            const Ran refused = run("export " + run_file + words);
            INFO(words << "\n" << refused.err);
            CHECK(refused.code == 2);
            CHECK(holds(refused.err, reason));
        }
        CHECK(folder.entries() == 2);
    }
    SECTION("what is no trajectory, or a broken one, is refused") {
        write(folder.file("text.h5"), "not HDF5");
        std::ofstream(folder.file("cut.h5")) << text_of(run_file).substr(0, 20000);
        for (const auto& [name, reason] : {std::pair{"text.h5", "it is not an HDF5 file"},
                                           {"none.h5", "there is no such file"},
                                           {"", "it is a folder"},
                                           {"cut.h5", "cannot read"}}) {
            const Ran refused =
                run("replay " + folder.file(name) + " --out " + folder.file("bad.html"));
            INFO(name << "\n" << refused.err);
            CHECK(refused.code == 2);
            CHECK(holds(refused.err, reason));
            CHECK_FALSE(fs::exists(folder.file("bad.html")));
        }
    }
}

TEST_CASE("HDF5 of something else and newer trajectories are refused by replay") {
    const Folder folder;
    const auto made = [&](const std::string& name, const std::string& attributes) {
        const std::string script = "import h5py; f = h5py.File('" + folder.file(name) +
                                   "', 'w'); a = f.attrs; " + attributes;
        REQUIRE(std::system(("/usr/bin/python3 -c \"" + script + "\"").c_str()) == 0);
        return run("replay " + folder.file(name) + " --out " + folder.file("page.html"));
    };
    const Ran other = made("other.h5", "a['format'] = 'something else'");
    CHECK(other.code == 2);
    CHECK(holds(other.err, "not a bedshade trajectory"));
    const Ran newer = made("newer.h5",
                           "import numpy; a['format'] = 'bedshade trajectory'; "
                           "a.create('format_version', 99, dtype='uint64')");
    CHECK(newer.code == 2);
    CHECK(holds(newer.err, "format version is 99"));
    CHECK_FALSE(fs::exists(folder.file("page.html")));
}

TEST_CASE("SIGINT keeps what was finished and says where") {
    const Folder folder;
    const std::string out = folder.file("long.h5");
    // Interrupted once it has begun to write; a shell that waits for the file does the waiting.
    const std::string wait = "sh -c '\"$@\" & while [ ! -e " + out +
                             ".part ]; do sleep 0.05; done; kill -INT $!; wait $!' sh";
    const Ran ran =
        run("forecast --months 240 --quiet --threads 1 --out " + out + " " + kStarving, wait);
    CHECK(ran.code == 130);
    CHECK(holds(ran.err, ".part holds what was finished"));
    CHECK(fs::exists(out + ".part"));
    CHECK_FALSE(fs::exists(out));
#ifdef BEDSHADE_HAS_PAGE
    const Ran page = run("replay " + out + ".part --out " + folder.file("part.html"));
    CHECK(page.code == 0);
    CHECK(holds(page.out, "was not finished"));
    CHECK(holds(text_of(folder.file("part.html")), "\"complete\":false"));
#endif
    CHECK(holds(run("describe " + out + ".part").out, "the run was stopped before its end"));
}

TEST_CASE("light says how far the inverse-square rule is off, and by what") {
    const Ran said = run("light " + kStarving);
    REQUIRE(said.code == 0);
    CHECK(holds(said.out, "twice as far from the lamp, a quarter of the light"));
    CHECK(holds(said.out, "times the light the rule says, above all through the walls' mirroring"));
    const Ran ran = run("light --json " + kStarving);
    const auto rule = nlohmann::json::parse(ran.out)["inverse_square"];
    CHECK(rule["lamp"] == "left lamp");
    CHECK(rule["reference"]["z_cm"] == Approx(45.0));
    REQUIRE(rule["spots"].size() == 2);
    for (const auto& spot : rule["spots"]) {
        double sum = spot["rule_umol_m2_s"];
        for (const auto& change : spot["change_umol_m2_s"]) sum += change.get<double>();
        CHECK(sum == Approx(spot["ppfd_umol_m2_s"].get<double>()));
    }
    CHECK(rule["spots"][0]["ppfd_umol_m2_s"] > rule["spots"][1]["ppfd_umol_m2_s"]);
}

TEST_CASE("counted light has the columns of light and agrees where both are exact") {
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
    CHECK(holds(ran.out, "sent less all ends"));

    std::ifstream light(folder.file("l.csv")), counted(folder.file("r.csv"));
    std::string light_line, counted_line;
    std::getline(light, light_line);
    std::getline(counted, counted_line);
    CHECK(counted_line == light_line + ",stderr_umol_m2_s");
    // Figures are counted from the end of a line, since the name of a point holds commas.
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

TEST_CASE("a count of photons can be interrupted") {
    const std::string interrupt = "sh -c '\"$@\" & sleep 1; kill -INT $!; wait $!' sh";
    const Ran ran =
        run("reference --photons 2000000000 --quiet --threads 1 " + kStarving, interrupt);
    CHECK(ran.code == 130);
    CHECK(holds(ran.err, "interrupted"));
}
