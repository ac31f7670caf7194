// What is done with a run that was kept: pages, exports, the same run again.
#include <algorithm>
#include <nlohmann/json.hpp>

#include "sim/trajectory/trajectory.h"

#include "tests/tools/program.h"

using namespace bedshade;
using namespace bedshade::test;

namespace {

/// By coreutils.
std::string sha256sum_of(const std::string& text) {
    const Folder folder;
    write(folder.file("text"), text);
    const std::string line = "sha256sum <" + folder.file("text") + " >" + folder.file("sum");
    REQUIRE(std::system(line.c_str()) == 0);
    return text_of(folder.file("sum")).substr(0, 64);
}

}  // namespace

#ifdef BEDSHADE_HAS_PAGE
TEST_CASE("a page from a run's file equals the page written directly") {
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
TEST_CASE("a program without the page reports it, and leaves nothing behind") {
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

TEST_CASE("a stored run is described, repeated, exported, and distinguished from other files") {
    const Folder folder;
    const std::string run_file = folder.file("a.h5");
    REQUIRE(run("forecast --quiet --months 3 " + kStarving + " --out " + run_file).code == 0);

    SECTION("it is described, and comes out the same from its own file") {
        const Ran described = run("describe " + run_file);
        REQUIRE(described.code == 0);
        CHECK(holds(described.out, "a.h5: Ledge over the bed"));
        CHECK(holds(described.out, "seed 1, 1 member\n"));
        CHECK(holds(described.out, "16 corals, a bed of 48 x 24 cells"));
        const auto told = nlohmann::json::parse(run("describe --json " + run_file).out);
        CHECK(told["complete"] == true);
        const RunProvenance facts = Trajectory(run_file).facts();
        CHECK(told["layout_sha256"] == sha256sum_of(facts.layout_text));
        CHECK(told["traits_sha256"] == sha256sum_of(facts.traits_text));
        CHECK(holds(described.out, "  SHA-256  " + sha256sum_of(facts.layout_text)));
        CHECK(holds(described.out, "           " + sha256sum_of(facts.traits_text)));
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
              {" --to csv --month 1 --out " + folder.file("x"), "every snapshot"}}) {
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

TEST_CASE("a damaged run is refused in one line, without more from HDF5") {
    const Ran ran = run("describe " BEDSHADE_SOURCE_DIR
                        "/tests/fuzz/found/trajectory/metadata_of_a_hundred_terabytes.bin");
    CHECK(ran.code == 2);
    CHECK(holds(ran.err, "metadata_of_a_hundred_terabytes.bin': "));
    CHECK(std::count(ran.err.begin(), ran.err.end(), '\n') == 1);
}

TEST_CASE("replay refuses other HDF5 files and newer trajectories") {
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
