// Lamps, pumps, water and food set anew on a day: nothing before it, everything after it.
#include "sim/run/settings.h"

#include <algorithm>
#include <catch2/catch.hpp>
#include <functional>
#include <numeric>

#include "model/growth/ambient_conditions.h"

#include "sim/base/pool.h"
#include "sim/input/traits/traits_reader.h"
#include "sim/run/forecast.h"
#include "sim/verdict/flag_detector.h"

#include "tests/layouts.h"
#include "tests/sim/run/recorded_run.h"

using namespace bedshade;
using namespace bedshade::test;

namespace {

constexpr double kHalfway_d = 28.0;

Layout tank_with_pump() {
    Layout layout = black_tank();
    layout.season.months = 2;
    layout.tank.length_m = layout.tank.width_m = 0.6;
    layout.water.attenuation_per_m.reset();
    layout.lamps = {lamp_at(Vec3(0.3, 0.3, 0.8), LampShape::point, 0.0, 200.0)};
    Pump pump;
    pump.name = "pump";
    pump.position_m = Vec3(0.03, 0.3, 0.3);
    pump.nozzle_m = 0.025;
    pump.flow_m3_s = 2000.0 / 3.6e6;
    layout.pumps = {pump};
    const TraitTable table = builtin_traits();
    layout.taxa = {*table.find("montipora-capricornis"), *table.find("euphyllia"),
                   *table.find("tubastraea")};
    layout.colonies = {colony_at("plate", 0, Vec3(0.3, 0.3, 0.2), 0.15, 0.02),
                       colony_at("torch", 1, Vec3(0.3, 0.3, 0.0), 0.06, 0.06),
                       colony_at("sun", 2, Vec3(0.45, 0.45, 0.0), 0.06, 0.05)};
    return layout;
}

/// The same with the sun coral in its ordinary flow.
Layout tank_of_sun_coral() {
    Layout layout = tank_with_pump();
    const double flow_m_s =
        Forecast(layout, {}, run_serially).observe(0.0).colonies[2].flow_speed_m_s;
    layout.taxa[2].flow_low_m_s = 0.5 * flow_m_s;
    layout.taxa[2].flow_high_m_s = 2.0 * flow_m_s;
    return layout;
}

Action set(double day_d, decltype(Action::to) to) {
    Action action;
    action.day_d = day_d;
    action.kind = std::holds_alternative<Feeding>(to) ? ActionKind::feed : ActionKind::set;
    action.to = std::move(to);
    return action;
}

/// What tells two frames apart: light, flow and carbon of each colony, its size and its reserve.
std::vector<double> figures_of(const Snapshot& snapshot) {
    std::vector<double> all = {snapshot.day_d};
    for (std::size_t i = 0; i < snapshot.colonies.size(); ++i) {
        const ColonyObservation& found = snapshot.colonies[i];
        const ColonyState& state = snapshot.reef.colonies[i];
        all.insert(all.end(), {found.dli_mol_m2_d, found.need_dli_mol_m2_d, found.net_carbon,
                               found.flow_speed_m_s, found.deposition_kg_m2_d, state.reserve,
                               state.height_m, state.sand_kg_m2});
        all.insert(all.end(), state.radius_m.begin(), state.radius_m.end());
    }
    all.insert(all.end(), snapshot.bed.dli_mol_m2_d.begin(), snapshot.bed.dli_mol_m2_d.end());
    all.insert(all.end(), snapshot.bed.shear_stress_Pa.begin(), snapshot.bed.shear_stress_Pa.end());
    return all;
}

double stress_of(const Snapshot& snapshot) {
    return std::accumulate(snapshot.bed.shear_stress_Pa.begin(), snapshot.bed.shear_stress_Pa.end(),
                           0.0);
}

/// Until the day a season with the setting is the one without, bit for bit; on the day the
/// figures that `read` picks differ. The frame of the day itself is given to `check`.
void holds_from_its_day_on(decltype(Action::to) change,
                           const std::function<void(const Snapshot&, const Snapshot&)>& check) {
    Layout layout = tank_with_pump();
    const auto without = season_of(layout);
    layout.actions = {set(kHalfway_d, std::move(change))};
    const auto with = season_of(layout);
    REQUIRE(with.size() == without.size());
    for (std::size_t k = 0; k < with.size(); ++k) {
        INFO("day " << with[k].day_d);
        if (with[k].day_d < kHalfway_d)
            CHECK(figures_of(with[k]) == figures_of(without[k]));
        else
            CHECK(figures_of(with[k]) != figures_of(without[k]));
        if (with[k].day_d == kHalfway_d) check(without[k], with[k]);
    }
}

}  // namespace

TEST_CASE("a lamp turned down halfway gives less light from that day on") {
    holds_from_its_day_on(
        LampChange{"lamp", 0.5, {}, {}}, [](const Snapshot& a, const Snapshot& b) {
            CHECK(b.colonies[0].dli_mol_m2_d == Approx(0.5 * a.colonies[0].dli_mol_m2_d));
        });
}

TEST_CASE("a lamp on for half as long gives half the photons at the same brightness") {
    holds_from_its_day_on(
        LampChange{"lamp", {}, {}, LampDay{10.0, 15.0, 0.0}},
        [](const Snapshot& a, const Snapshot& b) {
            CHECK(b.colonies[0].dli_mol_m2_d == Approx(0.5 * a.colonies[0].dli_mol_m2_d));
            CHECK(b.colonies[0].ppfd_mean_umol_m2_s == Approx(a.colonies[0].ppfd_mean_umol_m2_s));
        });
}

TEST_CASE("a lamp hung higher gives the light of one that always hung there") {
    Layout higher = tank_with_pump();
    higher.lamps[0].centre_m.z() = 1.1;
    const Snapshot first = season_of(higher).front();
    holds_from_its_day_on(LampChange{"lamp", {}, 0.6, {}}, [&](const Snapshot& a,
                                                               const Snapshot& b) {
        CHECK(b.colonies[0].dli_mol_m2_d < 0.7 * a.colonies[0].dli_mol_m2_d);
        CHECK(b.colonies[0].dli_mol_m2_d == Approx(first.colonies[0].dli_mol_m2_d).epsilon(0.03));
    });
}

TEST_CASE("a pump set anew makes the flow, and the sand, of one that was always so") {
    Layout other = tank_with_pump();
    other.pumps[0].flow_m3_s *= 0.5;
    other.pumps[0].direction = Vec3(1.0, 0.0, -0.4).normalized();
    const PumpChange change{"pump", other.pumps[0].flow_m3_s, other.pumps[0].direction};
    const Snapshot first = season_of(other).front();
    holds_from_its_day_on(change, [&](const Snapshot& a, const Snapshot& b) {
        // Not the same: the corals in the flow have grown since.
        CHECK(stress_of(b) == Approx(stress_of(first)).epsilon(0.05));
        CHECK_FALSE(stress_of(b) == Approx(stress_of(a)).epsilon(0.2));
        CHECK(b.colonies[2].flow_speed_m_s ==
              Approx(first.colonies[2].flow_speed_m_s).epsilon(0.05));
    });
}

TEST_CASE("fresh carbon clears the water, which yellows again from that day") {
    Layout layout = tank_with_pump();
    layout.water.yellowing_per_m = 0.6;
    layout.water.yellowing_drift_per_m_week = 0.02;
    WaterChange change;
    change.yellowing_per_m = 0.1;
    layout.actions = {set(kHalfway_d, change)};
    apply_settings(kHalfway_d, layout);
    CHECK(layout.water.yellowing_per_m == 0.1);
    CHECK(layout.water.drift_from_d == kHalfway_d);
    change.yellowing_per_m = 1.5;
    holds_from_its_day_on(change, [](const Snapshot& a, const Snapshot& b) {
        CHECK(b.colonies[0].dli_mol_m2_d < 0.95 * a.colonies[0].dli_mol_m2_d);
    });
}

TEST_CASE("silt stirred into the water dims it from that day on") {
    WaterChange change;
    change.turbidity_kg_m3 = 0.06;
    holds_from_its_day_on(change, [](const Snapshot& a, const Snapshot& b) {
        CHECK(b.colonies[0].dli_mol_m2_d < 0.95 * a.colonies[0].dli_mol_m2_d);
        CHECK(b.colonies[0].flow_speed_m_s == a.colonies[0].flow_speed_m_s);
    });
}

TEST_CASE("a heater set lower makes tissue breathe less") {
    WaterChange change;
    change.temperature_C = 22.0;
    holds_from_its_day_on(change, [](const Snapshot& a, const Snapshot& b) {
        CHECK(b.colonies[2].net_carbon > a.colonies[2].net_carbon + 0.1);
        CHECK(b.colonies[0].dli_mol_m2_d == Approx(a.colonies[0].dli_mol_m2_d).epsilon(0.01));
    });
}

TEST_CASE("settings have the same bits at any thread count", "[threads]") {
    Layout layout = tank_with_pump();
    layout.actions = {set(10.0, LampChange{"lamp", 0.7, 0.5, LampDay{9.0, 20.0, 1.0}}),
                      set(20.0, PumpChange{"pump", 1000.0 / 3.6e6, Vec3(0.8, 0.0, 0.6)}),
                      set(20.0, Feeding{2.0, 1.0, 7.0})};
    Pool pool(3);
    const auto alone = season_of(layout), together = season_of(layout, pool.parallel_for());
    REQUIRE(alone.size() == together.size());
    for (std::size_t k = 0; k < alone.size(); ++k)
        CHECK(figures_of(alone[k]) == figures_of(together[k]));
}

TEST_CASE("unfed, a coral that lives on food alone starves when its stores are spent") {
    // Stores of one to a few weeks of respiration (derived from lipid, reference table); Tubastraea
    // has no light terms.
    Layout layout = tank_of_sun_coral();
    const Taxon& sun = layout.taxa[2];
    const auto fed = season_of(layout);
    CHECK(fed.back().reef.colonies[2].live_fraction == 1.0);
    layout.actions = {set(0.0, Feeding{0.0, {}, {}})};
    FlagDetector detector(layout);
    Forecast forecast(layout, {}, run_serially);
    Kept kept;
    forecast.run({&detector, &kept}, [](double) { return true; });
    const double spent_d =
        sun.reserve_d / respiration_temperature_factor(layout.water.temperature_C);
    for (const Snapshot& snapshot : kept.snapshots) {
        INFO("day " << snapshot.day_d);
        const double reserve = std::max(0.0, 1.0 - snapshot.day_d / spent_d);
        CHECK(snapshot.reef.colonies[2].reserve == Approx(reserve).margin(1e-9));
        CHECK((snapshot.reef.colonies[2].live_fraction < 1.0) == (snapshot.day_d > spent_d));
    }
    int starved = 0;
    for (const Flag& flag : detector.flags())
        if (flag.colony == 2) {
            CHECK(flag.kind == FlagKind::starved);
            CHECK(flag.culprit_kind == CulpritKind::water);
            ++starved;
        }
    CHECK(starved == 1);
}

TEST_CASE("fed once a week, it lives as long as the week's food is enough") {
    // A usual day's food is 1.3 of a day's respiration: twice that once a week does not do.
    const auto reserve_after = [](double for_d) {
        Layout layout = tank_of_sun_coral();
        layout.actions = {set(0.0, Feeding{0.0, {}, {}}), set(0.0, Feeding{2.0, for_d, 7.0})};
        return season_of(layout).back().reef.colonies[2].reserve;
    };
    CHECK(reserve_after(1.0) == 0.0);
    CHECK(reserve_after(6.0) > 0.9);
}

TEST_CASE("what is set is told on its day") {
    Layout layout = tank_with_pump();
    layout.actions = {set(7.0, LampChange{"lamp", 0.5, {}, {}}), set(7.0, Feeding{2.0, 1.0, 7.0})};
    const auto told = deeds_told(layout);
    REQUIRE(told.size() == 2);
    CHECK(told[0] == "lamp 'lamp' is set to 0.5 of its full output");
    CHECK(told[1] == "food is 2 times the usual for 1 d every 7 d");
}
