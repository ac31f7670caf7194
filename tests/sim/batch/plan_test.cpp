// What a study makes: how many runs, which, and how each is known again.
#include "sim/batch/plan.h"

#include <fstream>
#include <set>
#include <sys/resource.h>

#include "sim/batch/layout_cache.h"
#include "sim/batch/sampling.h"

#include "toy.h"

using namespace bedshade;
using bedshade::test::ToyFolder;

namespace {

Plan plan_of(const std::filesystem::path& study) { return {read_study(study), {}}; }

/// What reading or planning a study complains of; empty when it does not.
std::string complaint(const std::filesystem::path& path) {
    try {
        Plan plan(read_study(path), {});
        plan.check();
    } catch (const InputError& error) {
        return error.what();
    }
    return {};
}

bool holds(const std::string& text, const std::string& part) {
    return text.find(part) != std::string::npos;
}

std::string vary(const std::string& key, const std::string& rest) {
    return "[[vary]]\nkey = '" + key + "'\n" + rest + "\n";
}

const std::string kFlux = vary("lamp.lamp.photon_flux", "values = [10, 20.5, 30]");

double peak_memory_MB() {
    struct rusage usage {};
    ::getrusage(RUSAGE_SELF, &usage);
    return static_cast<double>(usage.ru_maxrss) / 1024.0;
}

}  // namespace

TEST_CASE("a study is the product of what varies, the last key changing first") {
    const ToyFolder folder;
    Plan plan = plan_of(folder.study(
        kFlux + vary("colony.disc.position",
                     "name = \"spot\"\nfrom = \"10 10 cm\"\nto = \"20 10 cm\"\nsteps = 3")));
    REQUIRE(plan.runs() == 9);
    CHECK(plan.run(0).settings[0] ==
          std::pair<std::string, std::string>("lamp.lamp.photon_flux", "10"));
    CHECK(plan.run(0).settings[1] == std::pair<std::string, std::string>("spot", "10 10 cm"));
    CHECK(plan.run(1).settings[1].second == "15 10 cm");
    CHECK(plan.run(1).settings[0].second == "10");
    CHECK(plan.run(3).settings[0].second == "20.5");
    CHECK(plan.run(8).settings[1].second == "20 10 cm");
    const Layout layout = plan.layout(plan.run(4)).layout;
    CHECK(layout.lamps[0].photon_flux_umol_s == Approx(20.5));
    CHECK(layout.colonies[0].position_m.x() == Approx(0.15));
}

TEST_CASE("numbers that vary are shown as they were written") {
    const ToyFolder folder;
    const Plan plan = plan_of(folder.study(vary("lamp.lamp.output", "values = [0.3, 0.6]")));
    CHECK(plan.run(0).settings[0].second == "0.3");
    CHECK(plan.run(1).settings[0].second == "0.6");
}

TEST_CASE("every key path of a layout can vary: plain, nested, in lists, with quoted names") {
    const ToyFolder folder;
    std::ofstream(folder / "toy.toml", std::ios::app)
        << "[[pump]]\nname = \"No. 2\"\nposition = \"2 10 10 cm\"\ntoward = \"28 10 10 cm\"\n"
           "nozzle = \"2 cm\"\nflow = \"500 L/h\"\n";
    Plan plan = plan_of(folder.study(vary("water.temperature", "values = [24]") +
                                     vary("pump.\"No. 2\".flow", "values = [\"700 L/h\"]") +
                                     vary("lamp.lamp.day.on", "values = [\"9:00\"]") +
                                     vary("colony.disc.remove", "values = [false, true]")));
    const Layout kept = plan.layout(plan.run(0)).layout;
    CHECK(kept.water.temperature_C == 24.0);
    CHECK(kept.pumps[1].flow_m3_s * 3.6e6 == Approx(700.0));
    CHECK(kept.lamps[0].day.on_h == Approx(9.0));
    CHECK(kept.colonies.size() == 1);
    CHECK(plan.layout(plan.run(1)).layout.colonies.empty());
}

TEST_CASE("layouts and changes vary too, and a change may leave the layout as it is") {
    const ToyFolder folder;
    folder.write("dim.toml", "[[lamp]]\nname = \"lamp\"\noutput = 0.5\n");
    folder.write("other.toml", "extends = \"toy.toml\"\n[water]\ntemperature = 27\n");
    Plan plan =
        plan_of(folder.study("months = 2\n[[layout]]\nfile = \"other.toml\"\n"
                             "[[change]]\nname = \"as it is\"\n"
                             "[[change]]\nfile = \"dim.toml\"\n"));
    REQUIRE(plan.runs() == 4);
    CHECK(plan.layout_name(plan.run(3)) == "other.toml");
    CHECK(plan.run(3).settings[0].second == "dim.toml");
    const Layout last = plan.layout(plan.run(3)).layout;
    CHECK(last.lamps[0].output == 0.5);
    CHECK(last.water.temperature_C == 27.0);
    CHECK(last.season.months == 2);
    CHECK(plan.layout(plan.run(0)).layout.lamps[0].output == 1.0);
}

TEST_CASE("a run's key depends on all its inputs and on nothing else") {
    const ToyFolder folder;
    const auto study = folder.study(kFlux);
    const auto key = [&](std::uint64_t run) {
        Plan plan = plan_of(study);
        return plan.key(plan.run(run));
    };
    const std::string before = key(1);
    std::set<std::string> others = {before, key(0), key(2)};
    CHECK(others.size() == 3);

    folder.study("# a remark\n" + kFlux);
    std::ofstream(folder / "toy.toml", std::ios::app) << "# a remark\n";
    CHECK(key(1) == before);
    folder.study(kFlux + vary("water.temperature", "values = [25.5]"));
    const std::string warm = key(1);
    CHECK(warm != before);
    folder.study(vary("water.temperature", "values = [25.5]") + kFlux);
    CHECK(key(1) == warm);

    for (const char* rest : {"seed = 2\n", "members = 2\n", "months = 2\n"}) {
        folder.study(rest + kFlux);
        CHECK(others.insert(key(1)).second);
    }
    folder.study(kFlux);
    folder.write("mine.csv", "id\n");
    std::ofstream(folder / "toy.toml", std::ios::app) << "[water]\nsalinity = 34\n";
    CHECK(others.insert(key(1)).second);
}

TEST_CASE("a run's key includes the bytes of referenced files") {
    const ToyFolder folder;
    folder.write("rows.csv", "one");
    folder.write("toy.toml", "traits = [\"rows.csv\"]\n" + bedshade::test::kToy);
    const auto key = [&] {
        Plan plan =
            plan_of(folder.study(vary("lamp.lamp.spectrum_file", "values = [\"spd.csv\"]")));
        return plan.key(plan.run(0));
    };
    folder.write("spd.csv", "400,1\n");
    const std::string before = key();
    CHECK(key() == before);
    folder.write("spd.csv", "400,2\n");
    const std::string other = key();
    CHECK(other != before);
    folder.write("rows.csv", "two");
    CHECK(key() != other);
}

TEST_CASE("a layout that changed during the batch is not run") {
    const ToyFolder folder;
    LayoutCache cache({{"toy", folder / "toy.toml"}}, {});
    cache.fingerprint(0);
    folder.write("toy.toml", bedshade::test::kToy + "[water]\ntemperature = \"27 degC\"\n");
    CHECK_THROWS_WITH(cache.read(0), Catch::Contains("was changed while the batch ran"));
}

TEST_CASE("sampled points fill the range evenly, and more points keep the first ones") {
    constexpr int kRuns = 64;
    for (std::size_t key : {std::size_t{0}, std::size_t{1}, std::size_t{2}}) {
        std::vector<int> in_eighth(8);
        for (std::uint64_t run = 0; run < kRuns; ++run) {
            const double share = sampled_fraction(SampleKind::even, 7, run, key);
            REQUIRE((share >= 0.0 && share < 1.0));
            ++in_eighth[static_cast<std::size_t>(8.0 * share)];
        }
        for (const int count : in_eighth) CHECK(std::abs(count - kRuns / 8) <= 3);
    }
    const ToyFolder folder;
    const auto sampled = [&](int runs, const char* kind) {
        return plan_of(
            folder.study("[sample]\nruns = " + std::to_string(runs) + "\nkind = \"" + kind +
                         "\"\n" + vary("lamp.lamp.photon_flux", "from = 10\nto = 50") +
                         vary("colony.disc.position", "from = \"10 10 cm\"\nto = \"20 10 cm\"")));
    };
    for (const char* kind : {"even", "random"}) {
        Plan few = sampled(8, kind), many = sampled(100, kind);
        CHECK(few.runs() == 8);
        CHECK(few.run(7).settings == many.run(7).settings);
        CHECK(few.key(few.run(7)) == many.key(many.run(7)));
        CHECK(few.run(6).settings != few.run(7).settings);
    }
}

TEST_CASE("a study that would make too many runs is refused with their number") {
    const ToyFolder folder;
    std::string rest;
    for (const char* key :
         {"water.temperature", "water.salinity", "lamp.lamp.photon_flux", "lamp.lamp.output"})
        rest += vary(key, "from = 0.1\nto = 0.9\nsteps = 1000");
    const std::string reported = complaint(folder.study(rest));
    CHECK(holds(reported, "would make 1,000,000,000,000 runs"));
    CHECK(holds(reported, "at most 1,000,000"));
    for (int i = 0; i < 5; ++i)
        rest += vary("water.k" + std::to_string(i), "from = 0.1\nto = 0.9\nsteps = 100000");
    CHECK(holds(complaint(folder.study(rest)), "more than 1,000,000,000,000,000,000 runs"));
}

TEST_CASE("errors of a study are reported with their place") {
    const ToyFolder folder;
    const std::pair<std::string, const char*> slips[] = {
        {"basse = 3\n" + kFlux, "`basse` is not a key of a study"},
        {vary("lamp.lamp.photon_flux", "values = []"), "values is empty"},
        {vary("lamp.lamp.photon_flux", "from = 1\nto = 1\nsteps = 3"), "the range is empty"},
        {vary("lamp.lamp.photon_flux", "from = 1\nto = \"5 cm\"\nsteps = 3"), "one unit"},
        {vary("lamp.lamp.photon_flux", "from = 1\nto = 5"), "has no steps"},
        {vary("lamp.lamp.photon_flux", "from = 1\nto = 5\nsteps = 1"), "steps"},
        {vary("lamp.lamp.photon_flux", ""), "this [[vary]] has no values"},
        {vary("lamp.lamp", "values = [1]"), "write it as lamp.NAME.KEY"},
        {vary("reading.x.ppfd", "values = [1]"), "have no names"},
        {vary("lamp.lamp.photon_fluxx", "values = [1, 2]"), "`photon_fluxx` is not a key"},
        {vary("water.temperature", "values = [\"5 cm\"]"), "no value of"},
        {vary("lamp.lammp.photon_flux", "values = [1]"), "there is no lamp \"lammp\""},
        {kFlux + kFlux, "two [[vary]] are named"},
        {kFlux + vary("lamp.lamp.photon_flux", "name = \"b\"\nvalues = [1]"), "sets the same key"},
        {"[sample]\nruns = 4\n" + kFlux, "nothing is sampled"},
        {"members = 0\n" + kFlux, "members"},
        {"[[change]]\nfile = \"none.toml\"\n", "there is no file"},
        {"[[change]]\n", "names no file and has no name"},
        {vary("lamp..photon_flux", "values = [1]"), "a key in it is empty"},
        {vary("lamp.\\\"lamp.photon_flux", "values = [1]"), "a quote in it is not closed"},
        {vary("a.b.c.d.e.f.g.h.i", "values = [1]"), "it is nested too deep"},
        {vary("extends", "values = [\"toy.toml\"]"), "`extends` cannot be varied"},
        {vary("water.temperature", "from = true\nto = 5\nsteps = 3"), "from is true; a range"},
        {vary("water.temperature", "from = 5\nto = [5]\nsteps = 3"), "to is a list; a range"},
        {vary("colony.disc.position", "from = \"3 cm\"\nto = \"9 9 cm\"\nsteps = 3"),
         "different numbers of coordinates"},
        {vary("lamp.lamp.photon_flux", "name = \"layout\"\nvalues = [1]"),
         "no [[vary]] can be named \"layout\""},
        {"[[change]]\nname = \"a\"\nfiles = 3\n", "files must be a list of change files"},
        {"[[change]]\nname = \"a\"\nfiles = [3]\n", "files must name change files, in quotes"},
        {"[[change]]\nname = \"a\"\n[[change]]\nname = \"a\"\n",
         "two of [[change]] are named \"a\""},
    };
    for (const auto& [rest, expected] : slips) {
        CAPTURE(rest);
        const std::string reported = complaint(folder.study(rest));
        CAPTURE(reported);
        CHECK(holds(reported, expected));
        CHECK(holds(reported, "study.toml:"));
    }
    folder.write("none.toml", "format = 1\n[[vary]]\nkey = \"water.salinity\"\nvalues = [30]\n");
    CHECK(holds(complaint(folder / "none.toml"), "names no layout"));
    folder.write("far.toml", "format = 1\nbase = \"nowhere.toml\"\n");
    CHECK(holds(complaint(folder / "far.toml"), "there is no file"));
    folder.write("newer.toml", "format = 2\nbase = \"toy.toml\"\n" + kFlux);
    CHECK(holds(complaint(folder / "newer.toml"), "format 2 is newer than this program"));
}

TEST_CASE("too many keys for low-discrepancy points are refused") {
    const ToyFolder folder;
    std::string rest = "[sample]\nruns = 8\n";
    for (int i = 0; i < 25; ++i)
        rest += vary("lamp.lamp.photon_flux",
                     "name = \"" + std::to_string(i) + "\"\nfrom = 10\nto = 20");
    // The same key twenty-five times is a slip of its own, told first.
    CHECK(holds(complaint(folder.study(rest)), "another [[vary]] sets the same key"));
    std::string keys = "[sample]\nruns = 8\n";
    for (int i = 0; i < 25; ++i)
        keys += vary("colony.disc " + std::to_string(i) + ".diameter",
                     "from = \"4 cm\"\nto = \"5 cm\"");
    const std::string reported = complaint(folder.study(keys));
    CHECK(holds(reported, "25 keys are sampled together"));
    CHECK(holds(reported, "at most 24 can be"));
}

TEST_CASE("one invalid value of a key does not refuse the study") {
    const ToyFolder folder;
    CHECK(complaint(
              folder.study(vary("colony.disc.position", "values = [\"99 10 cm\", \"15 10 cm\"]")))
              .empty());
}

TEST_CASE("a study is distinguished from a layout") {
    const ToyFolder folder;
    CHECK(is_study(folder.study(kFlux)));
    CHECK_FALSE(is_study(folder / "toy.toml"));
    CHECK_FALSE(is_study(folder / "not there"));
}

TEST_CASE("a hundred thousand runs are planned one by one in constant memory") {
    const ToyFolder folder;
    Plan plan =
        plan_of(folder.study(vary("lamp.lamp.photon_flux", "from = 1\nto = 100\nsteps = 1000") +
                             vary("water.temperature", "from = 22\nto = 28\nsteps = 100")));
    REQUIRE(plan.runs() == 100'000);
    std::set<std::string> ends;
    const auto walk = [&](std::uint64_t from, std::uint64_t to) {
        for (std::uint64_t i = from; i < to; ++i) ends = {plan.key(plan.run(i))};
    };
    walk(0, 1000);
    [[maybe_unused]] const double before_MB = peak_memory_MB();
    walk(1000, 100'000);
    CHECK(ends.size() == 1);
#ifndef __SANITIZE_ADDRESS__  // which holds back freed memory, so that its peak tells nothing
    CHECK(peak_memory_MB() - before_MB < 2.0);
#endif
}
