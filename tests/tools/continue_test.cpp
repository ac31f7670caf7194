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

bool same(const std::vector<double>& a, const std::vector<double>& b) {
    return a.size() == b.size() && std::memcmp(a.data(), b.data(), a.size() * sizeof(double)) == 0;
}

/// Every figure of a coral in a file, NaN among them.
std::vector<double> figures_of(const ColonyRecord& record) {
    std::vector<double> all(record.radius_m.begin(), record.radius_m.end());
    for (int axis = 0; axis < 3; ++axis) all.push_back(record.position_m[axis]);
    all.insert(all.end(), {static_cast<double>(record.stage), record.diameter_m, record.height_m,
                           record.live_fraction, record.ppfd_mean_umol_m2_s, record.dli_mol_m2_d,
                           record.need_dli_mol_m2_d, record.net_carbon, record.reserve,
                           record.sand_kg_m2, record.flow_speed_m_s, record.shade_by_other});
    for (const ShadeShare& share : record.shade_by) {
        all.push_back(share.colony);
        all.push_back(share.share);
    }
    return all;
}

void check_same_frame(const Trajectory& a, int at, const Trajectory& b, int bt) {
    const auto some = a.colonies_at(0, at), others = b.colonies_at(0, bt);
    REQUIRE(some.size() == others.size());
    for (std::size_t i = 0; i < some.size(); ++i)
        CHECK(same(figures_of(some[i]), figures_of(others[i])));
    const BedObservation bed = a.bed_at(0, at), other = b.bed_at(0, bt);
    CHECK(same(bed.ppfd_umol_m2_s, other.ppfd_umol_m2_s));
    CHECK(same(bed.shear_stress_Pa, other.shear_stress_Pa));
    CHECK(same(bed.deposition_kg_m2_d, other.deposition_kg_m2_d));
}

bool same(const Flag& a, const Flag& b) {
    return a.kind == b.kind && a.colony == b.colony && a.day_d == b.day_d && a.month == b.month &&
           a.culprit_kind == b.culprit_kind && a.culprit == b.culprit && a.share == b.share &&
           a.detail == b.detail;
}

/// The whole run's frames from the rest's first on are the rest's, and so are its flags.
void check_rest(const Trajectory& whole, const Trajectory& rest) {
    const auto& days = whole.days_d();
    const auto at = std::find(days.begin(), days.end(), rest.days_d().front());
    REQUIRE(at != days.end());
    const auto first = static_cast<int>(at - days.begin());
    REQUIRE(std::equal(at, days.end(), rest.days_d().begin(), rest.days_d().end()));
    for (int k = 0; k < rest.snapshots(0); ++k) {
        INFO("day " << rest.days_d()[static_cast<std::size_t>(k)]);
        check_same_frame(whole, first + k, rest, k);
    }
    // A moment may lie between two frames, and is found out in the later one.
    const double seen_d = days[static_cast<std::size_t>(first - 1)];
    std::vector<Flag> later;
    for (const Flag& flag : whole.flags())
        if (flag.day_d > seen_d) later.push_back(flag);
    CHECK(std::equal(later.begin(), later.end(), rest.flags().begin(), rest.flags().end(),
                     [](const Flag& a, const Flag& b) { return same(a, b); }));
}

}  // namespace

TEST_CASE("a year and a year more of the demonstration are two years in one go") {
    const Folder folder;
    const std::string whole = folder.file("whole.h5"), half = folder.file("half.h5"),
                      rest = folder.file("rest.h5");
    done("forecast --quiet --seed 3 " + kStarving + " --out " + whole);
    done("forecast --quiet --seed 3 --months 12 " + kStarving + " --out " + half);
    done("export --quiet " + half + " --to layout --month 12 --out " + folder.file("then"));
    done("export --quiet " + whole + " --to layout --month 12 --out " + folder.file("too"));
    const std::string then = folder.file("then/month_12.toml");
    CHECK(text_of(then) == text_of(folder.file("too/month_12.toml")));
    done("forecast --quiet --seed 3 " + then + " --out " + rest);
    const Trajectory run(rest);
    CHECK(run.days_d().front() == 364.0);
    CHECK(holds(test::run("describe " + rest).out, "season   2028-01-03 to 2029-01-03, 54 frames"));
    check_rest(Trajectory(whole), run);
    check_refused("export " + rest + " --to vtk --month 3 --out " + folder.file("x"),
                  "month 3 is not in the run, which goes on from day 364");

    SECTION("the rest runs again from its own file, and is gone on with in its turn") {
        done("rerun --quiet " + rest + " --out " + folder.file("again.h5"));
        done("export --quiet " + rest + " --to layout --month 18 --out " + folder.file("later"));
        done("forecast --quiet --seed 3 " + folder.file("later/month_18.toml") + " --out " +
             folder.file("last.h5"));
        check_rest(Trajectory(whole), Trajectory(folder.file("last.h5")));
    }
}

TEST_CASE("no layout is exported of a run that comes out another") {
    const Folder folder;
    const std::string file = folder.file("run.h5"), out = folder.file("x");
    done("forecast --quiet --months 2 " + kClear + " --out " + file);
    const std::string script =
        "import h5py; h5py.File('" + file + "', 'r+')['colony/height'][0, 3, 0] *= 1.5";
    REQUIRE(std::system(("/usr/bin/python3 -c \"" + script + "\"").c_str()) == 0);
    check_refused("export --quiet " + file + " --to layout --month 2 --out " + out,
                  "run again, the season is another from day 21 on");
    CHECK(folder.entries() == 1);
}

TEST_CASE("a layout goes on without its memories too, to nearly the same") {
    const Folder folder;
    const std::string then = folder.file("then/month_02.toml");
    done("forecast --quiet --months 4 " + kStarving + " --out " + folder.file("whole.h5"));
    done("export --quiet " + folder.file("whole.h5") + " --to layout --month 2 --out " +
         folder.file("then"));
    std::string bare, line;
    for (std::istringstream lines(text_of(then)); std::getline(lines, line);)
        if (!holds(line, "memory = ")) bare += line + "\n";
    REQUIRE(bare.size() < text_of(then).size() / 2);
    write(then, bare);
    const Ran told =
        run("forecast --quiet --months 4 " + then + " --out " + folder.file("rest.h5"));
    CHECK(holds(told.out, "in what is left of 4 months, from 2027-03-01 on"));
    const Trajectory whole(folder.file("whole.h5")), rest(folder.file("rest.h5"));
    for (int k = 1; k <= rest.snapshots(0); ++k) {
        const auto some = whole.colonies_at(0, whole.snapshots(0) - k),
                   others = rest.colonies_at(0, rest.snapshots(0) - k);
        for (std::size_t i = 0; i < some.size(); ++i) {
            CHECK(others[i].diameter_m == Approx(some[i].diameter_m).margin(5e-6));
            CHECK(others[i].dli_mol_m2_d == Approx(some[i].dli_mol_m2_d).epsilon(1e-3));
        }
    }
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
    CHECK(holds(checked.out, "from 2027-01-04, going on from 2027-02-01, steps"));
    check_refused("forecast --months 0 " + then, "allowed: 1 to 240");
    done(words + "_late --quiet --month 2");
    check_refused("forecast --months 1 " + out + "_late/month_02.toml",
                  "--months is 1, counted from the season's start, and the layout goes on");
    for (const std::string& command :
         {"arrange " + then, "place " + then, "reference " + then + " --photons 1000",
          "fit " + then + " --readings " BEDSHADE_SOURCE_DIR "/scenarios/ledge_meter.csv"})
        check_refused(command, "goes on from day 28 of its season");
}
