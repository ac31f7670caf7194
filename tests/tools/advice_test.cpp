// Advice as its user meets it: what it prints, what it writes, and that what it wrote can be used.
#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include "tests/tools/program.h"

using namespace bedshade::test;

TEST_CASE("trim finds a cut for the starving bed, and a forecast with it starves nothing") {
    const Folder folder;
    const std::string out = folder.file("cuts.toml");
    const std::string words =
        "trim " + kStarving + " --months 20 --members 1 --fresh 1 --forecasts 12 --json --out ";
    const Ran ran = run(words + out);
    REQUIRE(ran.code == 0);
    const auto said = nlohmann::json::parse(ran.out);
    CHECK(said["reached"] == true);
    REQUIRE(said["cuts"].size() == 1);
    CHECK(said["cuts"][0]["colony"] == "ledge plate");
    CHECK(said["cuts"][0]["month"].get<int>() >= 17);
    CHECK(said["cuts"][0]["area_cm2"].get<double>() > 10.0);
    CHECK(said["forecasts"].get<double>() <= 12.0);
    CHECK(folder.entries() == 1);
    const std::string layout = folder.file("cut.toml");
    write(layout, "format = 1\nextends = \"" + kStarving + "\"\n" + text_of(out));
    const Ran after = run("forecast --months 20 " + layout);
    CHECK(after.code == 0);
    CHECK(holds(after.out, "No plate starves the bed in 20 months"));
    CHECK(holds(after.out, "ledge plate is trimmed from"));
    check_refused(words + out, "--force");
}

TEST_CASE("arrange finds the starving bed a better place, and its change lies over the layout") {
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

TEST_CASE("what cannot be advised on is refused before anything runs") {
    check_refused("trim " + kStarving + " --members 0", "--members is 0; allowed: 1 to 1000");
    check_refused("trim " + kStarving + " --confidence 1.5",
                  "--confidence is 1.5; allowed: 0 to 1");
    check_refused("trim " + kStarving + " --fragment 3", "--fragment");
    check_refused("arrange " + kStarving + " --move nobody", "no colony 'nobody'");
    check_refused("arrange " + kStarving + " --move 'ledge plate' --keep 'ledge plate'", "be kept");
    check_refused("trim " + kStarving + " --forecasts 20", "before anything is looked for");
}
