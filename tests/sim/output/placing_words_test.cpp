// What is said against a coral on a spot, word by word, for verdicts made by hand.
#include "sim/output/placing_words.h"

#include <catch2/catch.hpp>

#include "sim/season/pool.h"

#include "tests/layouts.h"

using namespace bedshade;
using namespace bedshade::test;

namespace {

/// A month of a plate and a dome, looked ahead once.
const BedAhead& plate_and_dome_ahead() {
    static const Layout layout = [] {
        Layout tank = plate_and_dome(0.1, Vec3(0.45, 0.45, 0.0));
        tank.season.months = 1;
        return tank;
    }();
    static const BedAhead ahead(layout, {}, run_serially, [](double) { return true; });
    return ahead;
}

Candidate some_coral() {
    Candidate candidate = candidate_of(plain_coral(Form::massive, 100.0), 0.06);
    candidate.taxon.flow_low_m_s = 0.02;
    candidate.taxon.flow_high_m_s = 0.15;
    candidate.taxon.preferred_grain_low_m = 0.0005;
    candidate.taxon.preferred_grain_high_m = 0.002;
    return candidate;
}

Outlook failing(Gauge gauge, double worst) {
    Outlook outlook;
    outlook.gauge(gauge).note(worst, 0.0);
    return outlook;
}

std::string reason(const Outlook& outlook) {
    const auto reasons = reasons_against(plate_and_dome_ahead(), some_coral(), outlook);
    REQUIRE(reasons.size() == 1);
    return reasons[0];
}

std::string change(const Outlook& outlook) {
    const auto changes = changes_needed(plate_and_dome_ahead(), some_coral(), outlook);
    REQUIRE(changes.size() == 1);
    return changes[0];
}

}  // namespace

TEST_CASE("a spot that is taken says by what") {
    Outlook outlook;
    outlook.taken = Taken::by_rock;
    CHECK(reason(outlook) == "there is rock on or just over the spot");
    outlook.taken = Taken::by_glass;
    CHECK(reason(outlook) == "the spot is too close to the glass for its size");
    outlook.taken = Taken::by_colony;
    outlook.taken_by = 1;
    CHECK(reason(outlook) == "'dome' stands there");
    CHECK(changes_needed(plate_and_dome_ahead(), some_coral(), outlook).empty());
}

TEST_CASE("want of room says towards what, and how much more would do") {
    Outlook outlook = failing(Gauge::room, -0.021);
    outlook.meets = Bound::glass;
    CHECK(reason(outlook) == "it grows against the glass from the start");
    CHECK(change(outlook) == "3 cm farther from the glass");
    outlook.meets = Bound::surface;
    CHECK(reason(outlook) == "it grows to the surface from the start");
    CHECK(change(outlook) == "3 cm more room above");
}

TEST_CASE("light taken from a neighbour, sand and grain say what would have to change") {
    Outlook outlook = failing(Gauge::shade, -0.1);
    outlook.shaded = 1;
    CHECK(reason(outlook) == "it takes too much light from 'dome' from the start");
    // exp(0.1) - 1 = 10.5 %, 1 - exp(-0.2) = 18.1 %; rounded up, so that it does.
    CHECK(change(outlook) == "11 % more light for 'dome'");
    CHECK(change(failing(Gauge::sand, -0.2)) == "19 % less sand on it");
    outlook = failing(Gauge::grain, -0.2);
    outlook.grain_m = 0.0025;
    CHECK(reason(outlook) == "grain too coarse for it: 2.5 mm, and it prefers 0.5 to 2 mm");
    CHECK(change(outlook) == "grain of 0.5 to 2 mm");
}

TEST_CASE("what is off by far is not made up for by a small change") {
    CHECK(
        changes_needed(plate_and_dome_ahead(), some_coral(), failing(Gauge::room, -0.06)).empty());
    CHECK(changes_needed(plate_and_dome_ahead(), some_coral(), failing(Gauge::sand, -0.5)).empty());
}

TEST_CASE("how well a verdict is known goes by the figures that decide it") {
    Taxon taxon = some_coral().taxon;
    taxon.sand = {"", Confidence::read};
    taxon.growth = {"", Confidence::analog};
    taxon.habit = {"", Confidence::practice};
    CHECK(known_by(taxon, failing(Gauge::sand, -0.2)) == "sand read");
    CHECK(known_by(taxon, failing(Gauge::room, -0.2)) == "growth analog");
    CHECK(known_by(taxon, failing(Gauge::grain, -0.2)) == "habit practice");
}
