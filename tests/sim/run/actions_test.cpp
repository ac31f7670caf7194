// What the keeper does, on its day, to the colony it names.
#include "sim/run/actions.h"

#include <catch2/catch.hpp>
#include <cmath>

#include "model/growth/trimming.h"

#include "tests/layouts.h"
#include "tests/sim/run/recorded_run.h"

using namespace bedshade;
using namespace bedshade::test;

namespace {

Action action(ActionKind kind, double day_d, const char* colony) {
    Action a;
    a.kind = kind;
    a.day_d = day_d;
    a.colony = colony;
    return a;
}

Layout two_corals() {
    Layout layout = black_tank();
    layout.season.months = 2;
    layout.lamps = {lamp_at(Vec3(1.0, 1.0, 0.9), LampShape::point, 0.0, 400.0)};
    layout.taxa = {plain_coral(Form::laminar, 100.0), plain_coral(Form::massive, 100.0)};
    layout.colonies = {colony_at("plate", 0, Vec3(1.0, 1.0, 0.2), 0.3, 0.02),
                       colony_at("dome", 1, Vec3(1.0, 1.0, 0.0), 0.2, 0.1)};
    return layout;
}

const Snapshot& snapshot_on(const std::vector<Snapshot>& snapshots, double day_d) {
    for (const Snapshot& snapshot : snapshots)
        if (std::abs(snapshot.day_d - day_d) < 1e-9) return snapshot;
    FAIL("no frame on day " << day_d);
    return snapshots.front();
}

}  // namespace

TEST_CASE("a plate is cut to a circle and keeps its height, a dome loses both alike") {
    ColonyState plate;
    plate.radius_m.fill(0.1);
    plate.radius_m[0] = 0.05;
    plate.height_m = 0.03;
    ColonyState dome = plate;
    const double before_m2 = planar_area_m2(plate.radius_m);
    const double cut_m2 = trim_to(0.12, Form::laminar, plate);
    CHECK(plate.radius_m[0] == 0.05);
    CHECK(plate.radius_m[1] == 0.06);
    CHECK(cut_m2 == Approx(before_m2 - planar_area_m2(plate.radius_m)));
    CHECK(plate.height_m == 0.03);
    const double across_m = mean_diameter_m(dome.radius_m);
    trim_to(0.12, Form::massive, dome);
    CHECK(dome.height_m == Approx(0.03 * mean_diameter_m(dome.radius_m) / across_m));
    CHECK(trim_to(0.5, Form::massive, dome) == 0.0);
}

TEST_CASE("a trimmed plate gives its light back on that very day") {
    Layout layout = two_corals();
    layout.actions = {action(ActionKind::trim, 17.0, "plate")};
    layout.actions[0].to = 0.1;
    const auto snapshots = season_of(layout);
    const Snapshot& before = snapshot_on(snapshots, 14.0);
    const Snapshot& on_day = snapshot_on(snapshots, 17.0);
    CHECK(before.step_d == Approx(3.0));
    CHECK(snapshot_on(snapshots, 21.0).step_d == Approx(7.0));
    REQUIRE(on_day.reef.applied_actions.size() == 1);
    CHECK(on_day.reef.applied_actions[0].before_m == Approx(0.3).epsilon(0.01));
    CHECK(on_day.reef.applied_actions[0].after_m == Approx(0.1).epsilon(0.01));
    CHECK(on_day.colonies[1].dli_mol_m2_d > 1.5 * before.colonies[1].dli_mol_m2_d);
    CHECK(snapshot_on(snapshots, 21.0).reef.applied_actions.empty());
}

TEST_CASE("what is taken out shades no more, what is added stands from its day on") {
    Layout layout = two_corals();
    layout.actions = {action(ActionKind::remove, 14.0, "plate")};
    const auto without = season_of(layout);
    CHECK(snapshot_on(without, 7.0).reef.colonies[0].present);
    CHECK_FALSE(snapshot_on(without, 14.0).reef.colonies[0].present);
    CHECK(snapshot_on(without, 14.0).colonies[1].shade_by.empty());

    layout.actions = {action(ActionKind::add, 10.0, "plate")};
    const auto with = season_of(layout);
    CHECK_FALSE(with.front().reef.colonies[0].present);
    CHECK(with.front().colonies[1].shade_by.empty());
    const Snapshot& added = snapshot_on(with, 10.0);
    CHECK(added.reef.colonies[0].present);
    REQUIRE(added.colonies[1].shade_since_baseline.size() == 1);
    CHECK(added.colonies[1].shade_since_baseline[0].share ==
          Approx(added.colonies[1].shade_by[0].share));
    // It comes acclimated to the light of its place.
    CHECK(added.reef.colonies[0].saturation_umol_m2_s ==
          Approx(season_of(two_corals()).front().reef.colonies[0].saturation_umol_m2_s));
}

TEST_CASE("a moved coral is lit where it stands") {
    Layout layout = two_corals();
    layout.actions = {action(ActionKind::move, 0.0, "dome")};
    layout.actions[0].to = Vec3(0.3, 0.3, 0.0);
    const auto snapshots = season_of(layout);
    CHECK(snapshots.front().reef.colonies[1].position_m == Vec3(0.3, 0.3, 0.0));
    Layout there = two_corals();
    there.colonies[1].position_m = Vec3(0.3, 0.3, 0.0);
    CHECK(snapshots.front().colonies[1].dli_mol_m2_d ==
          Approx(season_of(there).front().colonies[1].dli_mol_m2_d));
}

TEST_CASE("cleaning without a name takes the sand off all, and of one off that one") {
    Layout layout = two_corals();
    Reef reef;
    reef.colonies.resize(2);
    for (ColonyState& state : reef.colonies) state.sand_kg_m2 = state.sand_over_d = 3.0;
    layout.actions = {action(ActionKind::clean, 5.0, "dome"), action(ActionKind::clean, 6.0, "")};
    CHECK(apply_to_colonies(layout, 5.0, reef).size() == 1);
    CHECK(reef.colonies[0].sand_kg_m2 == 3.0);
    CHECK(reef.colonies[1].sand_kg_m2 == 0.0);
    CHECK(apply_to_colonies(layout, 6.0, reef).size() == 2);
    CHECK(reef.colonies[0].sand_over_d == 0.0);
    CHECK(action_days(layout) == std::vector<double>{5.0, 6.0});
}

TEST_CASE("deeds are told, and where a cut can poison the caution stands beside it") {
    Layout layout = two_corals();
    layout.taxa[0].caution = "Can carry palytoxin: wear gloves";
    layout.actions = {action(ActionKind::trim, 7.0, "plate"),
                      action(ActionKind::trim, 7.0, "dome")};
    layout.actions[0].to = 0.2;
    layout.actions[1].to = 0.4;
    const auto told = deeds_told(layout);
    REQUIRE(told.size() == 2);
    CHECK(told[0].find("plate is trimmed from") == 0);
    CHECK(told[0].find("palytoxin") != std::string::npos);
    CHECK(told[1] == "dome is 20.0 cm across, and no part of it reaches that far: nothing is cut");
}
