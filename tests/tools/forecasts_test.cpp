// Commands that run runs: forecast, its members, and comparisons.
#include <nlohmann/json.hpp>

#include "tests/tools/program.h"

using namespace bedshade::test;

namespace {

/// Change files for the demonstration: one that says what is so anyway, one that dims a lamp.
struct Changes {
    Folder folder;
    std::string same = folder.file("same.toml"), dimmer = folder.file("dimmer.toml");

    Changes() {
        write(same, "[[pump]]\nname = \"left pump\"\nflow = \"12000 L/h\"\n");
        write(dimmer, "[[lamp]]\nname = \"left lamp\"\noutput = 0.05\n");
    }
};

/// An ensemble of the black box over two years, on one thread, into a file.
struct KeptEnsemble {
    double peak_kB = 0.0, file_bytes = 0.0;

    explicit KeptEnsemble(int members) {
        const Folder folder;
        const std::string script = folder.file("peak.py"), out = folder.file("run.h5");
        write(script,
              "import resource, subprocess, sys\n"
              "code = subprocess.run(sys.argv[1:]).returncode\n"
              "print(resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss, file=sys.stderr)\n"
              "sys.exit(code)\n");
        const Ran ran =
            run("forecast --quiet --months 24 --threads 1 --members " + std::to_string(members) +
                    " --out " + out + " " + BEDSHADE_SOURCE_DIR "/tests/monte_carlo/black_box.toml",
                "/usr/bin/python3 " + script);
        REQUIRE(ran.code == 0);
        peak_kB = std::stod(ran.err);
        file_bytes = static_cast<double>(fs::file_size(out));
    }
};

}  // namespace

TEST_CASE("the starving layout names the month, the plate, the bed coral and the share",
          "[threads]") {
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

TEST_CASE("the better layout starves nothing on the bed") {
    const Ran ran = run("forecast --json " + kClear);
    REQUIRE(ran.code == 0);
    const auto document = nlohmann::json::parse(ran.out);
    CHECK(document["format"] == 1);
    CHECK(document["colonies"].size() >= 15);
    for (const auto& flag : document["flags"])
        CHECK_FALSE((flag["flag"] == "light-short" || flag["flag"] == "starved"));
}

TEST_CASE("forecast --json is one document with the contract's keys") {
    const Ran ran = run("forecast --json " + kStarving);
    REQUIRE(ran.code == 0);
    CHECK(ran.err.empty());
    const auto document = nlohmann::json::parse(ran.out);
    for (const char* key : {"layout", "months", "step_days", "seed", "members", "flags", "colonies",
                            "files", "warnings"})
        CHECK(document.contains(key));
    REQUIRE(!document["flags"].empty());
    const auto flag = document["flags"][0];
    for (const char* key : {"flag", "month", "date", "colony", "taxon", "culprit", "culprit_kind",
                            "share", "probability", "probability_by_month", "month_p10",
                            "month_p50", "month_p90", "main_driver", "detail"})
        CHECK(flag.contains(key));
    CHECK(flag["probability_by_month"].size() == document["months"]);
    for (const char* key :
         {"ppfd_umol_m2_s", "dli_mol_m2_d", "need_dli_mol_m2_d", "diameter_cm", "live"})
        CHECK(document["colonies"][0]["start"].contains(key));
}

TEST_CASE("exit code 3 reports a flag if requested") {
    CHECK(run("forecast --quiet --fail-on-flag " + kStarving).code == 3);
}

TEST_CASE(
    "an ensemble is the same at any thread count and from its file, and is reported with its "
    "uncertainty",
    "[threads]") {
    const Folder folder;
    const std::string one = folder.file("one.h5"), two = folder.file("two.h5");
    const std::string box = BEDSHADE_SOURCE_DIR "/tests/monte_carlo/black_box.toml";
    const std::string line = "forecast --quiet --months 2 --members 4 " + box;
    const Ran told = run(line + " --threads 1 --out " + one);
    REQUIRE(told.code == 0);
    CHECK(holds(told.out, "Uncertainty (4 runs"));
    REQUIRE(run(line + " --threads 2 --out " + two).code == 0);
    CHECK(text_of(one) == text_of(two));
    const Ran again = run("rerun --quiet " + one + " --out " + folder.file("again.h5"));
    CHECK(holds(again.out, "are the same, byte for byte."));
    const std::string described = run("describe " + one).out;
    CHECK(holds(described, "4 members"));
    CHECK(holds(described, " of 4 runs"));

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
    CHECK(holds(none.err, "--members is 0; allowed: 1 to 1000"));
}

TEST_CASE("a run is compared with itself after a change") {
    const Changes change;
    const Ran twins = run("compare --quiet --months 2 " + kStarving + " " + change.same);
    REQUIRE(twins.code == 0);
    CHECK(holds(twins.out, "Nothing differs: both runs are identical to the last bit."));

    const Ran darker = run("compare --quiet --months 2 " + kStarving + " " + change.dimmer);
    REQUIRE(darker.code == 0);
    CHECK(holds(darker.out, "  new    month 2"));
    CHECK(holds(darker.out, "too-dim: the spot of 'ledge bush'"));
    CHECK(holds(darker.out, "light (PPFD), umol m-2 s-1"));
    CHECK_FALSE(holds(darker.out, "bed shear stress"));

    const Ran document = run("compare --json --months 2 " + kStarving + " " + change.dimmer);
    REQUIRE(document.code == 0);
    const auto json = nlohmann::json::parse(document.out);
    CHECK(json["same"] == false);
    CHECK(json["flags"][0]["change"] == "new");
    CHECK(json["colonies"][0]["with"]["dli_mol_m2_d"] <
          json["colonies"][0]["without"]["dli_mol_m2_d"]);
}

TEST_CASE("members are compared in pairs") {
    const Changes change;
    const Ran twins =
        run("compare --quiet --months 1 --members 3 " + kStarving + " " + change.same);
    REQUIRE(twins.code == 0);
    CHECK(holds(twins.out, "No difference in any of 3 runs: all are identical to the last bit."));
    const Ran darker =
        run("compare --json --months 1 --members 3 " + kStarving + " " + change.dimmer);
    REQUIRE(darker.code == 0);
    const auto json = nlohmann::json::parse(darker.out);
    CHECK(json["ensemble"]["members"] == 3);
    CHECK(json["ensemble"]["same"] == false);
    const auto& light = json["ensemble"]["differences"][0]["dli_mol_m2_d"];
    CHECK(light["p95"] < 0.0);
    CHECK(light["p05"] <= light["mean"]);
    CHECK(run("compare --members 0 " + kStarving + " " + change.same).code == 2);
}

TEST_CASE("check reports undermined rock and corals irritated at their base") {
    const Folder folder;
    const std::string layout = folder.file("worms.toml");
    write(layout, "extends = \"" + kStarving +
                      "\"\n[[inhabitant]]\nname = \"worms\"\ndoes = \"dwell-at-bases\"\n"
                      "[[inhabitant]]\nname = \"digger\"\ndoes = \"stir\"\n"
                      "events_per_day = 50\nmass = \"1 g\"\naround = \"12 14 cm\"\n"
                      "radius = \"20 cm\"\n");
    const Ran ran = run("check " + layout);
    INFO(ran.err);
    REQUIRE(ran.code == 0);
    CHECK(holds(ran.out, "'islet' rests on sand, and "));
    CHECK(holds(ran.out, "'digger' can dig beside it"));
    CHECK(holds(ran.out, "rockwork can fall"));
    CHECK(holds(ran.out, "stands where 'worms' lives"));
    CHECK_FALSE(holds(ran.out, "has no effect"));
    const auto json = nlohmann::json::parse(run("check --json " + layout).out);
    CHECK(json["sand_cautions"].size() > 2);
    CHECK_FALSE(holds(run("check " + kStarving).out, "rests on sand"));
}

TEST_CASE("a pump turned at the bed buries a coral, turned up and away it does not", "[.][long]") {
    const std::string scenarios = kStarving.substr(0, kStarving.rfind('/') + 1);
    const Ran at_bed =
        run("compare --quiet --months 5 " + kStarving + " " + scenarios + "pump_at_bed.toml");
    REQUIRE(at_bed.code == 0);
    CHECK(holds(at_bed.out, "buried: 'rubble polyps'"));
    CHECK(holds(at_bed.out, "resuspended by pump 'left pump'"));
    const Ran away =
        run("compare --quiet --months 5 " + kStarving + " " + scenarios + "pump_up_and_away.toml");
    REQUIRE(away.code == 0);
    CHECK_FALSE(holds(away.out, "buried"));
}

TEST_CASE("invalid comparisons are refused") {
    const Folder folder;
    const std::string broken = folder.file("broken.toml"), extending = folder.file("base.toml");
    write(broken, "[[pump]]\nname = \"left pump\"\nflow = 12000\n");
    write(extending, "extends = \"other.toml\"\n");
    for (const auto& [words, reason] :
         {std::pair{kStarving, std::string("a change file are needed; found 1 file")},
          {kStarving + " " + broken, std::string("broken.toml:3:8: error")},
          {kStarving + " " + extending, std::string("a change file cannot extend")},
          {kStarving + " " + folder.file("none.toml"), std::string("none.toml")}}) {
        check_refused("compare " + words, reason);
    }
}

TEST_CASE("SIGINT keeps the finished part and reports its file") {
    const Folder folder;
    const std::string out = folder.file("long.h5");
    // Interrupted once it has begun to write; a shell that waits for the file does the waiting.
    const std::string wait = "sh -c '\"$@\" & while [ ! -e " + out +
                             ".part ]; do sleep 0.05; done; kill -INT $!; wait $!' sh";
    const Ran ran =
        run("forecast --months 240 --quiet --threads 1 --out " + out + " " + kStarving, wait);
    CHECK(ran.code == 130);
    CHECK(holds(ran.err, "the finished part is in "));
    CHECK(fs::exists(out + ".part"));
    CHECK_FALSE(fs::exists(out));
#ifdef BEDSHADE_HAS_PAGE
    const Ran page = run("replay " + out + ".part --out " + folder.file("part.html"));
    CHECK(page.code == 0);
    CHECK(holds(page.out, "The run is unfinished"));
    CHECK(holds(text_of(folder.file("part.html")), "\"complete\":false"));
#endif
    CHECK(holds(run("describe " + out + ".part").out, "the run was stopped before its end"));
}

TEST_CASE("a jet too fast for the flow model gives a warning") {
    const Folder folder;
    std::string text = text_of(kStarving);
    const auto at = text.find("flow = \"");
    REQUIRE(at != std::string::npos);
    text.replace(at, text.find('\n', at) - at, "flow = \"200000 L/h\"");
    std::ofstream(folder.file("fast.toml")) << text;
    const Ran fast = run("check " + folder.file("fast.toml"));
    CHECK(fast.code == 0);
    CHECK_THAT(fast.out + fast.err, Catch::Contains("not reliable"));
    const Ran usual = run("check " + kStarving);
    CHECK_THAT(usual.out + usual.err, !Catch::Contains("not reliable"));
}

TEST_CASE("an ensemble has few members in memory, and its file grows as documented") {
    const KeptEnsemble some(16), more(32);
    constexpr double kSnapshots = 106.0, kBedCells = 24.0 * 16.0, kColonies = 3.0;
    // Held to the end, 16 more members would take this for their light, sand and stress alone.
    [[maybe_unused]] const double held_kB = 16.0 * kSnapshots * kBedCells * 3.0 * 8.0 / 1024.0;
#ifndef __SANITIZE_ADDRESS__  // which holds back freed memory, so that its peak tells nothing
    CHECK(more.peak_kB - some.peak_kB < 0.5 * held_kB);
#endif
    // As file-format.md says: 3.5 bytes a cell of the bed and frame, 75 a colony and frame.
    const double expected = 16.0 * kSnapshots * (3.5 * kBedCells + 75.0 * kColonies);
    CHECK(more.file_bytes - some.file_bytes < expected);
    CHECK(more.file_bytes > some.file_bytes);
}

TEST_CASE("forecast reports the day on which cuttings of one clone fuse") {
    const Folder folder;
    const auto tank = [&](const std::string& second_clone) {
        const std::string path = folder.file(second_clone + ".toml");
        write(path,
              "format = 1\n[season]\nstart = 2027-01-01\nmonths = 12\n[tank]\nlength = \"60 cm\"\n"
              "width = \"40 cm\"\nwater_depth = \"40 cm\"\nwalls = \"black\"\nback = \"black\"\n"
              "[[lamp]]\nname = \"lamp\"\nposition = \"30 20 cm\"\nheight = \"15 cm\"\n"
              "shape = \"rectangle\"\nsize = \"30 10 cm\"\nphoton_flux = 60\n"
              "[[pump]]\nname = \"pump\"\nposition = \"3 20 20 cm\"\nflow = \"3000 L/h\"\n"
              "toward = \"60 20 20 cm\"\nnozzle = \"4 cm\"\n"
              "[[colony]]\nname = \"head\"\ntaxon = \"euphyllia\"\non = \"sand\"\n"
              "position = \"27 20 cm\"\ndiameter = \"6 cm\"\nsettling = 0\nclone = \"gold\"\n"
              "[[colony]]\nname = \"cutting\"\ntaxon = \"euphyllia\"\non = \"sand\"\n"
              "position = \"33.8 20 cm\"\ndiameter = \"6 cm\"\nsettling = 0\nclone = \"" +
                  second_clone + "\"\n");
        return path;
    };
    const Ran one = run("forecast --quiet " + tank("gold"));
    REQUIRE(one.code == 0);
    CHECK(holds(one.out, "Fused corals\n  2027-"));
    CHECK(holds(one.out, ": head and cutting have grown together\n"));
    const auto document = nlohmann::json::parse(run("forecast --json " + tank("gold")).out);
    REQUIRE(document["fusions"].size() == 1);
    CHECK(document["fusions"][0]["kind"] == "fused");
    CHECK_FALSE(holds(run("forecast --quiet " + tank("green")).out, "Fused corals"));
}
