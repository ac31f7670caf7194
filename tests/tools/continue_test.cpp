// `bedshade export --to layout`: twelve months and twelve more are twenty-four.
#include <algorithm>
#include <cstring>
#include <sstream>

#include "sim/trajectory/trajectory.h"

#include "tests/tools/program.h"

using namespace bedshade;
using namespace bedshade::test;

namespace {

void done(const std::string& words) {
    const Ran ran = run(words);
    INFO(words << "\n" << ran.err);
    REQUIRE(ran.code == 0);
}

}  // namespace

TEST_CASE("a year and another year of the demonstration are exported and continued") {
    const Folder folder;
    const std::string whole = folder.file("whole.h5"), half = folder.file("half.h5"),
                      rest = folder.file("rest.h5");
    done("forecast --quiet --seed 3 " + kStarving + " --out " + whole);
    done("forecast --quiet --seed 3 --months 12 " + kStarving + " --out " + half);
    done("export --quiet " + half + " --to layout --month 12 --out " + folder.file("then"));
    done("export --quiet " + whole + " --to layout --month 12 --out " + folder.file("too"));
    const std::string then = folder.file("then/month_12.toml");
    CHECK(text_of(then) == text_of(folder.file("too/month_12.toml")));
    done("forecast --quiet " + then + " --out " + rest);  // with the seed that the layout states
    const Trajectory run(rest), two_years(whole);
    CHECK(run.facts().seed == 3);
    CHECK(run.days_d().front() == 364.0);
    CHECK(run.days_d().back() == two_years.days_d().back());
    const auto some = two_years.colonies_at(0, two_years.snapshots(0) - 1),
               others = run.colonies_at(0, run.snapshots(0) - 1);
    for (std::size_t i = 0; i < some.size(); ++i)
        CHECK(others[i].diameter_m == Approx(some[i].diameter_m).epsilon(0.01));
    check_refused("export " + rest + " --to vtk --month 3 --out " + folder.file("x"),
                  "month 3 is not in the run");
    done("rerun --quiet " + rest + " --out " + folder.file("again.h5"));
}

TEST_CASE("no layout is exported of a run that comes out another") {
    const Folder folder;
    const std::string file = folder.file("run.h5"), out = folder.file("x");
    done("forecast --quiet --months 2 " + kClear + " --out " + file);
    const std::string script =
        "import h5py; h5py.File('" + file + "', 'r+')['colony/height'][0, 3, 0] *= 1.5";
    REQUIRE(std::system(("/usr/bin/python3 -c \"" + script + "\"").c_str()) == 0);
    check_refused("export --quiet " + file + " --to layout --month 2 --out " + out,
                  "run again, the run differs from day 21 on");
    CHECK(folder.entries() == 1);
}

TEST_CASE("what no layout can be exported of, and what does not take one that goes on") {
    const Folder folder;
    const std::string file = folder.file("run.h5"), out = folder.file("x");
    done("forecast --quiet --months 2 " + kClear + " --out " + file);
    const std::string words = "export " + file + " --to layout --out " + out;
    check_refused(words, "--month is missing");
    check_refused(words + " --month 0", "has made no whole step of 7 d");
    check_refused(words + " --month 3", "month 3 is not in the run, which ends in month 2");
    check_refused(words + " --month -1", "month -1 is not in the run");
    CHECK_FALSE(fs::exists(out));
    done(words + " --quiet --month 1");
    const std::string then = out + "/month_01.toml";
    done("light --quiet " + then);
    const Ran checked = run("check --quiet " + then);
    CHECK(checked.code == 0);
    CHECK(holds(checked.out, "2027-02-01"));
    check_refused("forecast --months 0 " + then, "allowed: 1 to 240");
    done(words + "_late --quiet --month 2");
    check_refused("forecast --months 1 " + out + "_late/month_02.toml",
                  "--months is 1, counted from the start of the run");
    for (const std::string& command :
         {"arrange " + then, "place " + then, "reference " + then + " --photons 1000",
          "fit " + then + " --readings " BEDSHADE_SOURCE_DIR "/scenarios/ledge_meter.csv"})
        check_refused(command, "continues from day 28");
}
