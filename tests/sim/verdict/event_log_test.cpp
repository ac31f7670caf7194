// Events from frames made by hand: each beginning once, with its day and its colony.
#include "sim/verdict/event_log.h"

#include <catch2/catch.hpp>
#include <memory>

#include "tests/layouts.h"

using namespace bedshade;

TEST_CASE("events mark the beginnings in a colony's life") {
    Layout layout = test::black_tank();
    layout.taxa = {test::plain_coral(Form::massive, 100.0)};
    layout.colonies = {test::colony_at("one", 0, Vec3(1.0, 1.0, 0.0), 0.1, 0.05)};
    EventLog event_log(layout);
    const std::vector<Stage> stages = {Stage::settling, Stage::growing, Stage::growing,
                                       Stage::idle,     Stage::fasting, Stage::receding,
                                       Stage::dead,     Stage::dead};
    for (std::size_t k = 0; k < stages.size(); ++k) {
        Snapshot snapshot;
        snapshot.day_d = 7.0 * static_cast<double>(k);
        snapshot.reef.colonies.resize(1);
        snapshot.reef.colonies[0].stage = stages[k];
        event_log.take(snapshot);
    }
    REQUIRE(event_log.events().size() == 4);
    CHECK(event_log.events()[0].kind == "growing");
    CHECK(event_log.events()[0].day_d == 7.0);
    CHECK(event_log.events()[1].text == "one begins to live on its reserve");
    CHECK(event_log.events()[3].kind == "died");
    CHECK(event_log.events()[3].day_d == 42.0);
    CHECK(event_log.events()[3].colony == 0);
}

namespace {

/// Three heads in a row, 11 cm from middle to middle; the first two are of one individual.
Layout three_heads() {
    Layout layout = test::black_tank();
    layout.taxa = {test::plain_coral(Form::massive, 100.0)};
    for (const char* name : {"one", "two", "other"})
        layout.colonies.push_back(test::colony_at(name, 0, Vec3(1.0, 1.0, 0.0), 0.1, 0.05));
    layout.colonies[0].clone = layout.colonies[1].clone = "gold";
    layout.colonies[2].clone = "green";
    return layout;
}

Snapshot heads_on(double day_d, double radius_m) {
    Snapshot snapshot;
    snapshot.day_d = day_d;
    snapshot.reef.colonies.resize(3);
    for (std::size_t c = 0; c < 3; ++c) {
        ColonyState& state = snapshot.reef.colonies[c];
        state.position_m = Vec3(1.0 + 0.11 * static_cast<double>(c), 1.0, 0.0);
        state.radius_m.fill(radius_m);
        state.height_m = 0.05;
        state.stage = Stage::settling;
    }
    return snapshot;
}

}  // namespace

TEST_CASE("fusion of cuttings of one clone is reported once") {
    const Layout layout = three_heads();
    EventLog event_log(layout);
    for (int k = 0; k < 4; ++k) event_log.take(heads_on(7.0 * k, 0.05 + 0.0025 * k));
    REQUIRE(event_log.events().size() == 1);
    const EventRecord& event = event_log.events()[0];
    CHECK(is_fusion(event));
    CHECK_FALSE(is_action_event(event));
    CHECK(event.day_d == 14.0);
    CHECK(event.text == "one and two have grown together");
}

TEST_CASE("a continued run does not repeat earlier fusions") {
    for (const double radius_m : {0.05, 0.055}) {
        const Layout layout = three_heads();
        Reef before = heads_on(7.0, radius_m).reef;
        before.contacts.harm.resize(3);
        const Checkpoint checkpoint = checkpoint_of(before, layout);
        EventLog event_log(layout, 0, &checkpoint);
        event_log.take(heads_on(14.0, 0.055));
        CHECK(event_log.events().size() == (radius_m < 0.055 ? 1U : 0U));
    }
}

TEST_CASE("settings of lamps and water are reported with every value that was set") {
    Layout layout = test::black_tank();
    Action hours;
    hours.to = LampChange{"left", {}, {}, LampDay{9.0, 19.5, 1.5}};
    WaterChange water;
    water.turbidity_kg_m3 = 0.0004;
    water.attenuation_per_m = 0.35;
    Action cleared;
    cleared.to = water;
    layout.actions = {hours, cleared};
    Snapshot snapshot;
    for (int action = 0; action < 2; ++action) {
        AppliedAction done;
        done.action = action;
        done.kind = ActionKind::set;
        snapshot.reef.applied_actions.push_back(done);
    }
    EventLog event_log(layout);
    event_log.take(snapshot);
    REQUIRE(event_log.events().size() == 2);
    CHECK(event_log.events()[0].text == "lamp 'left' is set to 10.5 h a day, with ramps of 1.5 h");
    CHECK(event_log.events()[1].text ==
          "the water is set to 0.4 mg/L of turbidity, 0.35 1/m of attenuation");
}
