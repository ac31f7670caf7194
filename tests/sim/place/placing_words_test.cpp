// What is said against a coral on a spot, word by word, for verdicts made by hand.
#include "sim/place/placing_words.h"

#include <catch2/catch.hpp>

#include "sim/base/pool.h"

#include "tests/layouts.h"

using namespace bedshade;
using namespace bedshade::test;

namespace {

/// A month of a plate and a dome, looked ahead once.
const BedForecast& plate_and_dome_ahead() {
    static const Layout layout = [] {
        Layout tank = plate_and_dome(0.1, Vec3(0.45, 0.45, 0.0));
        tank.season.months = 1;
        return tank;
    }();
    static const BedForecast ahead(layout, {}, run_serially, [](double) { return true; });
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

SiteAssessment failing(Criterion criterion, double worst) {
    SiteAssessment assessment;
    assessment.criterion(criterion).note(worst, 0.0);
    return assessment;
}

std::string reason(const SiteAssessment& assessment) {
    const auto reasons = reasons_against(plate_and_dome_ahead(), some_coral(), assessment);
    REQUIRE(reasons.size() == 1);
    return reasons[0];
}

std::string change(const SiteAssessment& assessment) {
    const auto changes = changes_needed(plate_and_dome_ahead(), some_coral(), assessment);
    REQUIRE(changes.size() == 1);
    return changes[0];
}

}  // namespace

TEST_CASE("a taken site is reported with what takes it") {
    SiteAssessment assessment;
    assessment.taken = Taken::by_rock;
    CHECK(reason(assessment) == "there is rock on or just above the spot");
    assessment.taken = Taken::by_glass;
    CHECK(reason(assessment) == "the spot is too close to the glass for its size");
    assessment.taken = Taken::by_colony;
    assessment.taken_by = 1;
    CHECK(reason(assessment) == "'dome' is there");
    CHECK(changes_needed(plate_and_dome_ahead(), some_coral(), assessment).empty());
}

TEST_CASE("lack of room is reported with its direction and amount") {
    SiteAssessment assessment = failing(Criterion::room, -0.021);
    assessment.meets = Bound::glass;
    CHECK(reason(assessment) == "it grows against the glass from the start");
    CHECK(change(assessment) == "3 cm farther from the glass");
    assessment.meets = Bound::surface;
    CHECK(reason(assessment) == "it grows to the surface from the start");
    CHECK(change(assessment) == "3 cm more room above");
}

TEST_CASE("shade on a neighbour, sand and grain give the change needed") {
    SiteAssessment assessment = failing(Criterion::shade, -0.1);
    assessment.shaded = 1;
    CHECK(reason(assessment) == "it takes too much light from 'dome' from the start");
    // exp(0.1) - 1 = 10.5 %, 1 - exp(-0.2) = 18.1 %; rounded up, so that it does.
    CHECK(change(assessment) == "11 % more light for 'dome'");
    CHECK(change(failing(Criterion::sand, -0.2)) == "19 % less sand on it");
    assessment = failing(Criterion::grain, -0.2);
    assessment.grain_m = 0.0025;
    CHECK(reason(assessment) == "grain too coarse for it: 2.5 mm, and it prefers 0.5 to 2 mm");
    CHECK(change(assessment) == "grain of 0.5 to 2 mm");
}

TEST_CASE("a large shortfall gives no small change") {
    CHECK(changes_needed(plate_and_dome_ahead(), some_coral(), failing(Criterion::room, -0.06))
              .empty());
    CHECK(changes_needed(plate_and_dome_ahead(), some_coral(), failing(Criterion::sand, -0.5))
              .empty());
}

TEST_CASE("the evidence of a verdict is that of the values that decide it") {
    Taxon taxon = some_coral().taxon;
    taxon.sand = {"", Confidence::read};
    taxon.growth = {"", Confidence::analog};
    taxon.habit = {"", Confidence::practice};
    CHECK(known_by(taxon, failing(Criterion::sand, -0.2)) == "sand read");
    CHECK(known_by(taxon, failing(Criterion::room, -0.2)) == "growth analog");
    CHECK(known_by(taxon, failing(Criterion::grain, -0.2)) == "habit practice");
}
