// Advice as its user meets it: what it prints, what it writes, and that what it wrote can be used.
#include <algorithm>
#include <catch2/catch.hpp>
#include <fstream>
#include <nlohmann/json.hpp>
#include <vector>

#include "tests/sim/batch/toy.h"
#include "tests/tools/program.h"

using namespace bedshade::test;

TEST_CASE("trim finds a cut for the starving bed, and nothing goes wrong in a forecast with it") {
    const Folder folder;
    const std::string out = folder.file("cuts.toml"), layout = folder.file("plan.toml");
    const std::string words = "trim " + kStarving +
                              " --months 22 --members 1 --fresh 1 --forecasts 14 --json --layout " +
                              layout + " --out ";
    const Ran ran = run(words + out);
    REQUIRE(ran.code == 0);
    const auto said = nlohmann::json::parse(ran.out);
    CHECK(said["reached"] == true);
    REQUIRE(said["cuts"].size() == 1);
    CHECK(said["cuts"][0]["colony"] == "ledge plate");
    CHECK(said["cuts"][0]["month"].get<int>() >= 17);
    CHECK(said["cuts"][0]["area_cm2"].get<double>() > 10.0);
    CHECK(said["forecasts"].get<double>() <= 14.0);
    CHECK(folder.entries() == 2);
    CHECK(holds(text_of(layout), text_of(out)));
    const Ran after = run("forecast " + layout);
    CHECK(after.code == 0);
    CHECK(holds(after.out, "Nothing goes wrong in 22 months"));
    CHECK(holds(after.out, "ledge plate is trimmed from"));
    check_refused(words + out, "--force");
}

TEST_CASE(
    "arrange finds better positions for the starving bed, and its change applies to the layout") {
    const Folder folder;
    const std::string out = folder.file("moves.toml");
    const Ran ran = run("arrange " + kStarving + " --months 20 --move 'disc under ledge' " +
                        "--move 'mound foot' --forecasts 6 --fresh 1 --json --out " + out);
    REQUIRE(ran.code == 0);
    const auto said = nlohmann::json::parse(ran.out);
    CHECK(said["as_arranged"]["worst_margin"].get<double>() >=
          said["as_given"]["worst_margin"].get<double>());
    CHECK(said["search_forecasts"].get<int>() <= 6);
    CHECK(run("compare " + kStarving + " " + out + " --months 1").code == 0);
}

TEST_CASE("invalid requests for advice are refused before anything runs") {
    check_refused("trim " + kStarving + " --members 0", "--members is 0; allowed: 1 to 1000");
    check_refused("trim " + kStarving + " --confidence 1.5",
                  "--confidence is 1.5; allowed: 0 to 1");
    check_refused("trim " + kStarving + " --fragment 3", "--fragment");
    check_refused("arrange " + kStarving + " --move nobody", "no colony 'nobody'");
    check_refused("arrange " + kStarving + " --move 'ledge plate' --keep 'ledge plate'",
                  "kept in place by --keep");
    check_refused("trim " + kStarving + " --forecasts 20", "and the smallest search need");
}

namespace {

/// The toy with a plate over its disc, for a year.
std::string plate_over_toy(const ToyFolder& folder) {
    std::string text = kToy;
    text.replace(text.find("months = 1"), 10, "months = 12");
    text +=
        "[[colony]]\nname = \"plate\"\ntaxon = \"montipora-capricornis\"\n"
        "position = \"12 10 11 cm\"\ndiameter = \"8 cm\"\nheight = \"2 cm\"\n";
    return folder.write("plate.toml", text).string();
}

/// The lines of all files of kept runs in a cache, in order.
std::vector<std::string> kept_runs(const fs::path& cache) {
    std::vector<std::string> lines;
    for (const auto& entry : fs::directory_iterator(cache / "advice")) {
        std::ifstream file(entry.path());
        for (std::string line; std::getline(file, line);) lines.push_back(line);
    }
    std::sort(lines.begin(), lines.end());
    return lines;
}

/// Ends a command by a signal, later each time, until it comes to its end; what it then said must
/// be what one says that nobody disturbed, and the runs it kept those which that one kept, none
/// twice.
void check_continues(const std::string& command, const std::string& options, const char* signal) {
    const ToyFolder folder;
    const std::string words = command + " --quiet " + options + " " + plate_over_toy(folder);
    const auto in_cache = [&](const std::string& name) {
        return "env BEDSHADE_CACHE=" + (folder / name).string();
    };
    const Ran calm = run(words, in_cache("calm"));
    INFO(command << " " << signal << "\n" << calm.err);
    REQUIRE(calm.code == 0);
    int ended = 0;
    Ran last;
    for (double after_s = 0.05; after_s < 1000.0; after_s *= 1.5, ++ended) {
        last = run(words, in_cache("night") + " timeout --preserve-status -s " + signal + " " +
                              std::to_string(after_s));
        if (last.code == 0) break;
        REQUIRE((last.code == 130 || last.code == 137 || last.code == -1));
        // It may be killed when it has said all and is about to end.
        REQUIRE((last.out.empty() || last.out == calm.out));
    }
    CHECK(ended > 1);
    CHECK(last.out == calm.out);
    CHECK(kept_runs(folder / "night") == kept_runs(folder / "calm"));
}

}  // namespace

TEST_CASE("interrupted or killed advice continues with the same result") {
    for (const char* signal : {"INT", "KILL"}) {
        check_continues("trim", "--members 8 --fresh 3 --forecasts 60", signal);
        check_continues("arrange", "--forecasts 12 --fresh 2", signal);
        check_continues("place", "", signal);
    }
}
