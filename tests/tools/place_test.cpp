// `bedshade place` as its user meets it.
#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include "tests/tools/program.h"

namespace {

using namespace bedshade::test;
using nlohmann::json;

const std::string& kDemo = kStarving;

}  // namespace

TEST_CASE("place lists suitable corals with their spot, and the reason against the others",
          "[threads]") {
    const Ran ran = run("place --quiet " + kDemo);
    CHECK(ran.code == 0);
    CHECK(ran.err.empty());
    const auto could_not = ran.out.find("Unsuitable");
    REQUIRE(could_not != std::string::npos);
    CHECK(ran.out.find("  fungia ") < could_not);
    CHECK(ran.out.find("  acropora-hyacinthus ") > could_not);
    CHECK(holds(ran.out, "too little light from month "));
    CHECK(holds(ran.out, ": the lamps give too little here"));
    CHECK(holds(ran.out, "more light"));
    CHECK(holds(ran.out, "light analog"));
    // The caution stands on the line of the coral it is about.
    const auto line = ran.out.find("  palythoa ");
    REQUIRE(line != std::string::npos);
    CHECK(holds(ran.out.substr(line, ran.out.find('\n', line) - line), "palytoxin"));
    const Ran again = run("place --quiet --threads 1 " + kDemo);
    CHECK(again.out == ran.out);
}

TEST_CASE("place draws a map of one kind, as text and with every margin as JSON") {
    const Ran map = run("place --quiet --months 6 --taxon \"plate coral\" " + kDemo);
    CHECK(map.code == 0);
    CHECK(holds(map.out, "Suitability of the bed for fungia"));
    CHECK(holds(map.out, "2.5 cm a character"));
    const Ran ran = run("place --json --months 6 --taxon fungia " + kDemo);
    const json document = json::parse(ran.out);
    CHECK(document["format"] == 1);
    REQUIRE(document["kinds"].size() == 1);
    const json& kind = document["kinds"][0];
    CHECK(kind["margins"].size() == 7);
    CHECK(kind["cells"].size() == document["bed"]["open_cells"]);
    std::size_t does = 0;
    for (const json& cell : kind["cells"]) {
        does += cell["does"].get<bool>() ? 1 : 0;
        if (cell["does"]) CHECK(cell["light"] >= 0.0);
        if (cell["against"] == "reach") CHECK(cell["reach_cm"] < 0.0);
    }
    CHECK(does == kind["cells_that_do"]);
}

TEST_CASE("place assesses one spot") {
    const Ran ran = run("place --quiet --months 6 --spot 70,12 " + kDemo);
    CHECK(ran.code == 0);
    CHECK(holds(ran.out, "Suitable at 70,12 cm for 6 months"));
    const Ran taken = run("place --quiet --months 6 --spot 45,24 " + kDemo);
    CHECK(holds(taken.out, "because 'disc under ledge' is there, for\n      any of them"));
    const json document = json::parse(run("place --json --months 6 --spot 70,12 " + kDemo).out);
    CHECK(document["kinds"].size() > 40);
    CHECK(document["kinds"][0]["spot"]["x_cm"] == Approx(70.0));
}

TEST_CASE("place reports invalid requests") {
    const auto wrong = [](const std::string& words, const std::string& said) {
        check_refused("place --quiet " + words + " " + kDemo, said);
    };
    wrong("--spot 45", "needed: X,Y in cm");
    wrong("--spot 45,x", "not a number of centimetres");
    wrong("--spot nan,3", "not a number of centimetres");
    wrong("--spot 145,3", "is outside the tank: 0 to 120 by 0 to 60 cm");
    wrong("--taxon fungio", "did you mean 'fungia'?");
    wrong("--diameter 0", "allowed: 0.5 to 100 cm");
}
