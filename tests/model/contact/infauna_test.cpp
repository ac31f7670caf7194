// Infauna: which corals it irritates, and how much tissue they lose.
#include "model/contact/infauna.h"

#include <catch2/catch.hpp>

#include "sim/run/reef_light.h"
#include "sim/verdict/evaluated_run.h"

#include "tests/layouts.h"

using namespace bedshade;
using namespace bedshade::test;

namespace {

/// Two sensitive corals and one that is not, on the sand in a row, and worms around the first.
Layout with_worms(double radius_m, int count) {
    Layout layout = black_tank();
    layout.taxa = {plain_coral(Form::massive, 100.0), plain_coral(Form::massive, 100.0)};
    layout.taxa[0].bothered_by_base_dwellers = true;
    layout.colonies = {colony_at("minds", 0, Vec3(0.5, 1.0, 0.0), 0.1, 0.05),
                       colony_at("minds too", 0, Vec3(0.8, 1.0, 0.0), 0.1, 0.05),
                       colony_at("does not", 1, Vec3(0.5, 1.3, 0.0), 0.1, 0.05)};
    Inhabitant worms;
    worms.name = "worms";
    worms.does = Habit::dwell_at_bases;
    worms.count = count;
    worms.around_m = Vec2(0.5, 1.0);
    worms.radius_m = radius_m;
    layout.inhabitants = {worms};
    return layout;
}

std::vector<Irritation> bothers_in(const Layout& layout) {
    return infauna_irritation(layout, baseline_reef(layout));
}

}  // namespace

TEST_CASE("infauna irritates only sensitive corals in its territory") {
    const auto near = bothers_in(with_worms(0.2, 5));
    CHECK(near[0].inhabitant == 0);
    CHECK(near[0].speed_mm_d == kInfaunaRecession_mm_d);
    CHECK(near[0].share == 1.0);
    CHECK(near[1].inhabitant == -1);
    CHECK(near[2].inhabitant == -1);
    CHECK(bothers_in(with_worms(0.4, 5))[1].inhabitant == 0);
}

TEST_CASE("one animal divides its active hours among the bases") {
    Layout layout = with_worms(0.4, 1);
    CHECK(bothers_in(layout)[0].speed_mm_d == Approx(0.5 * kInfaunaRecession_mm_d));
    layout.inhabitants[0].from_h = 0.0;
    layout.inhabitants[0].to_h = 6.0;
    CHECK(bothers_in(layout)[1].speed_mm_d == Approx(0.125 * kInfaunaRecession_mm_d));
    Layout by_night = layout;
    by_night.inhabitants[0].from_h = 22.0;
    by_night.inhabitants[0].to_h = 4.0;
    CHECK(bothers_in(by_night)[1].speed_mm_d == bothers_in(layout)[1].speed_mm_d);
    layout.inhabitants.push_back(layout.inhabitants[0]);
    layout.inhabitants[1].count = 2;
    const Irritation both = bothers_in(layout)[0];
    CHECK(both.inhabitant == 1);
    CHECK(both.share == Approx(2.0 / 3.0));
}

TEST_CASE("corals on rock, dead and absent corals are not irritated") {
    Layout layout = with_worms(0.4, 5);
    layout.colonies[0].position_m.z() = 0.1;
    Reef reef = baseline_reef(layout);
    reef.colonies[1].live_fraction = 0.0;
    for (const Irritation& b : infauna_irritation(layout, reef)) CHECK(b.speed_mm_d == 0.0);
}

TEST_CASE("recession by infauna does not depend on the step") {
    const Irritation by{0, 1.0, 0.05};
    ColonyState once = baseline_reef(with_worms(0.2, 5)).colonies[0], twice = once;
    irritate(by, 14.0, once);
    irritate(by, 7.0, twice);
    irritate(by, 7.0, twice);
    CHECK(once.live_fraction == Approx(twice.live_fraction).epsilon(1e-12));
    // 0.7 mm off a disc of 5 cm radius.
    CHECK(once.live_fraction == Approx(0.986 * 0.986).epsilon(1e-3));
    CHECK(once.lost.to_infauna == Approx(1.0 - once.live_fraction));
}

TEST_CASE("a run reports the animal that irritates a coral") {
    Layout layout = with_worms(0.2, 5);
    layout.season.months = 2;
    const EvaluatedRun season = evaluate_run(layout, {}, run_serially, [](double) { return true; });
    std::vector<Flag> irritated;
    for (const Flag& flag : season.flags)
        if (flag.kind == FlagKind::irritated) irritated.push_back(flag);
    REQUIRE(irritated.size() == 1);
    CHECK(irritated[0].colony == 0);
    CHECK(irritated[0].culprit_kind == CulpritKind::inhabitant);
    CHECK(irritated[0].culprit == 0);
    CHECK(irritated[0].share == 1.0);
    CHECK(irritated[0].day_d == Approx(7.0));
    CHECK(season.colonies[0].end_live_fraction < season.colonies[1].end_live_fraction);
}
