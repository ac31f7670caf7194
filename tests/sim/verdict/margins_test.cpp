// Margins from frames made by hand: how much to spare, of what, and when it was least.
#include "sim/verdict/margins.h"

#include <catch2/catch.hpp>
#include <cmath>

#include "model/contact/clearance.h"

#include "sim/base/pool.h"
#include "sim/run/reef_light.h"
#include "sim/verdict/evaluated_run.h"

#include "tests/layouts.h"

using namespace bedshade;
using namespace bedshade::test;

namespace {

/// Two discs of 10 cm on the sand, of two taxa, their rims `gap_m` apart; the second stings.
Layout pair(double gap_m) {
    Layout layout = black_tank();
    layout.taxa = {plain_coral(Form::massive, 100.0), plain_coral(Form::massive, 100.0)};
    layout.taxa[1].id = "stinger";
    layout.taxa[1].reach_sweepers_m = 0.05;
    layout.taxa[0].flow_low_m_s = 0.05;
    layout.taxa[0].flow_high_m_s = 0.20;
    layout.colonies = {colony_at("quiet", 0, Vec3(0.8, 1.0, 0.0), 0.1, 0.05),
                       colony_at("stinger", 1, Vec3(0.9 + gap_m, 1.0, 0.0), 0.1, 0.05)};
    return layout;
}

Snapshot snapshot_on(const Layout& layout, double day_d) {
    Snapshot snapshot;
    snapshot.day_d = day_d;
    snapshot.step_d = 7.0;
    snapshot.reef = baseline_reef(layout);
    snapshot.colonies.resize(2);
    for (ColonyObservation& found : snapshot.colonies) {
        found.dli_mol_m2_d = 2.0;
        found.need_dli_mol_m2_d = 1.0;
        found.flow_speed_m_s = 0.1;
    }
    return snapshot;
}

}  // namespace

TEST_CASE("room is the gap less the farther reach, for both of a pair") {
    const Layout layout = pair(0.08);
    Surroundings around(layout);
    Reef reef = baseline_reef(layout);
    around.set_colonies(reef);
    const auto room = clearances(around, reef);
    CHECK(room[0].room_m == Approx(0.03).margin(0.003));  // outlines are polygons
    CHECK(room[0].neighbour == 1);
    CHECK(room[1].room_m == room[0].room_m);
    CHECK(room[1].neighbour == 0);
    reef.colonies[1].stage = Stage::dead;
    around.set_colonies(reef);
    CHECK(std::isinf(clearances(around, reef)[0].room_m));
}

TEST_CASE("nobody is near beyond what is looked for, and one's own kind is no enemy") {
    Layout layout = pair(0.05 + kClearanceSearch_m + 0.02);
    Surroundings around(layout);
    const Reef reef = baseline_reef(layout);
    around.set_colonies(reef);
    CHECK(std::isinf(clearances(around, reef)[0].room_m));
    Layout kin = pair(0.01);
    kin.colonies[1].taxon = 0;
    Surroundings among(kin);
    among.set_colonies(baseline_reef(kin));
    CHECK(std::isinf(clearances(among, baseline_reef(kin))[0].room_m));
}

TEST_CASE("margins keep the worst moment of each quantity") {
    const Layout layout = pair(0.08);
    MarginTracker detector(layout);
    for (int step = 0; step < 20; ++step) {
        Snapshot snapshot = snapshot_on(layout, 7.0 * step);
        snapshot.colonies[0].need_dli_mol_m2_d = 1.0 + 0.01 * snapshot.day_d;
        snapshot.reef.colonies[0].sand_kg_m2 = step == 4 ? 0.35 : 0.1;
        snapshot.colonies[0].flow_speed_m_s = step == 7 ? 0.25 : 0.1;
        detector.take(snapshot);
    }
    const Margins& quiet = detector.margins()[0];
    // The need's mean over the last 30 of 133 days is that of day 118.
    CHECK(quiet.light.value == Approx(std::log(2.0 / (1.0 + 1.18))));
    CHECK(quiet.light.day_d == 133.0);
    CHECK(quiet.sand.value == Approx(std::log(2.0)));
    CHECK(quiet.sand.day_d == 28.0);
    CHECK(quiet.flow.value == Approx(std::log(0.20 / 0.25)));
    CHECK(quiet.flow.day_d == 49.0);
    CHECK(worst_of(quiet).kind == MarginKind::flow);
    CHECK(worst_of(quiet).value == Approx(-0.2231).margin(1e-4));
    CHECK(std::isinf(detector.margins()[1].sand.value));
}

TEST_CASE("a run under thirty days is judged on its whole length") {
    const Layout layout = pair(0.08);
    MarginTracker detector(layout);
    for (int step = 0; step < 3; ++step) {
        Snapshot snapshot = snapshot_on(layout, 7.0 * step);
        if (step == 2) snapshot.step_d = 0.0;
        detector.take(snapshot);
    }
    CHECK(detector.margins()[0].light.value == Approx(std::log(2.0)));
}

TEST_CASE("a run evaluated without files has the flags and margins of a recorded one") {
    Layout layout = pair(0.08);
    for (Taxon& taxon : layout.taxa) {  // at home in the still water of this tank
        taxon.flow_low_m_s = 0.0;
        taxon.flow_high_m_s = 0.002;
    }
    layout.season.months = 2;
    layout.lamps = {lamp_at(Vec3(1.0, 1.0, 0.7), LampShape::disc, 0.2, 400.0)};
    Pool pool(1);
    const auto on = [](double) { return true; };
    const EvaluatedRun judged = evaluate_run(layout, {}, pool.parallel_for(), on);
    CHECK(judged.finished);
    REQUIRE(judged.margins.size() == 2);
    CHECK(std::isfinite(judged.margins[0].light.value));
    CHECK(judged.colonies[0].days == Approx(2 * kDaysPerMonth));
    CHECK(evaluate_member(layout, {}, pool.parallel_for(), on).margins == judged.margins);
    const auto half = [](double done) { return done < 0.5; };
    CHECK_FALSE(evaluate_run(layout, {}, pool.parallel_for(), half).finished);
}
