// Bioturbation by animals.
#include "model/sediment/bioturbation.h"

#include <catch2/catch.hpp>
#include <cmath>
#include <set>

#include "model/flow/jet_flow.h"
#include "model/sediment/open_sand.h"

using namespace bedshade;

namespace {

struct Aquarium {
    Tank tank;
    Substrate substrate;
    std::vector<Rock> rocks;
    BedGrid grid{48, 24, 0.025, 0.025};
    JetFlow flow;

    explicit Aquarium(const std::vector<Pump>& pumps = {})
        : tank(box()), rocks{block()}, flow(tank, pumps, rocks, Water{}) {}
    static Tank box() {
        Tank t;
        t.length_m = 1.2;
        t.width_m = 0.6;
        t.water_depth_m = 0.55;
        return t;
    }
    static Rock block() {
        Rock rock;
        rock.shape = RockBox{{0.5, 0.2, 0.0}, {0.7, 0.4, 0.2}};
        return rock;
    }
    BioturbationScene scene() const {
        return {tank, substrate, rocks, flow, grid, seawater(Water{})};
    }
};

Inhabitant goby() {
    Inhabitant fish;
    fish.events_per_day = 60.0;
    fish.mass_kg = 1.5e-3;
    fish.lift_m = 0.10;
    fish.from_h = 8.0;
    fish.to_h = 20.0;
    fish.around_m = {0.6, 0.3};
    fish.radius_m = 0.4;
    return fish;
}

Pump gentle() {
    Pump pump;
    pump.position_m = {0.02, 0.1, 0.05};
    pump.flow_m3_s = 1500 / 3.6e6;
    return pump;
}

}  // namespace

TEST_CASE("events lie within active hours, the territory and open sand") {
    const Aquarium a;
    const auto territory = territory_of(goby(), 0, a.scene());
    int seen = 0;
    for (int day = 0; day < 40; ++day)
        for (const auto& e : bioturbation_events_of_day(territory, 5, 0, day, a.scene())) {
            ++seen;
            const double hour = (e.time_d - day) * 24.0;
            CHECK((hour >= 8.0 && hour < 20.0));
            CHECK((e.spot_m - goby().around_m).norm() <= goby().radius_m);
            CHECK(open_sand(e.spot_m, a.tank, a.rocks));
        }
    // Poisson, mean 2400: four standard deviations.
    CHECK(std::abs(seen - 2400) < 4 * 49);
}

TEST_CASE("hours may span midnight") {
    const Aquarium a;
    Inhabitant night = goby();
    night.from_h = 22.0;
    night.to_h = 4.0;
    const auto territory = territory_of(night, 0, a.scene());
    int before_midnight = 0, after_it = 0;
    for (const auto& e : bioturbation_events_of_day(territory, 5, 0, 3, a.scene())) {
        const double hour = (e.time_d - 3) * 24.0;
        CHECK((hour >= 22.0 || hour < 4.0));
        ++(hour >= 22.0 ? before_midnight : after_it);
    }
    CHECK(before_midnight > 0);
    CHECK(after_it > before_midnight);  // four hours against two
}

TEST_CASE("the events of a day do not depend on other days or animals") {
    const Aquarium a;
    const auto first = territory_of(goby(), 0, a.scene());
    const auto second = territory_of(goby(), 1, a.scene());
    const auto times = [&](const Territory& t, std::uint64_t seed, std::uint32_t member, int day) {
        std::vector<double> list;
        for (const auto& e : bioturbation_events_of_day(t, seed, member, day, a.scene()))
            list.push_back(e.time_d - day);
        return list;
    };
    const auto reference = times(first, 5, 2, 17);
    CHECK(times(first, 5, 2, 17) == reference);
    CHECK(times(first, 6, 2, 17) != reference);
    CHECK(times(first, 5, 3, 17) != reference);
    CHECK(times(first, 5, 2, 18) != reference);
    CHECK(times(second, 5, 2, 17) != reference);
}

TEST_CASE("frequent events are grouped into bouts with the same total mass") {
    const Aquarium a;
    Inhabitant sifter = goby();
    sifter.events_per_day = 6480.0;  // 540 mouthfuls an hour
    sifter.mass_kg = 2.6e-5;
    const auto territory = territory_of(sifter, 0, a.scene());
    double mass = 0.0;
    for (int day = 0; day < 50; ++day) {
        const auto events = bioturbation_events_of_day(territory, 5, 0, day, a.scene());
        CHECK(events.size() == static_cast<std::size_t>(kMaxBoutsPerDay));
        for (const auto& e : events) mass += e.mass_kg;
    }
    CHECK(mass == Approx(50 * lifted_kg_d(sifter)).epsilon(4.0 / std::sqrt(50 * 6480.0)));
}

TEST_CASE("infauna does not lift sand") {
    const Aquarium a;
    Inhabitant crab = goby();
    crab.does = Habit::dwell_at_bases;
    const auto territory = territory_of(crab, 0, a.scene());
    CHECK(bioturbation_events_of_day(territory, 5, 0, 0, a.scene()).empty());
    CHECK(mean_bioturbation(territory, a.scene()).empty());
    CHECK(lifted_kg_d(crab) == 0.0);
}

TEST_CASE("all sand of an event lands downstream, and none above its lift height") {
    const Aquarium a({gentle()});
    const Vec2 spot(0.3, 0.1);
    const auto territory = territory_of(goby(), 0, a.scene());
    BioturbationEvent event{0.5, spot, 1.5e-3, 0.10, 0, settling_drift_at(spot, 0.10, a.scene())};
    for (const double height : {0.0, 0.05}) {
        double mass = 0.0, moment = 0.0;
        for (double y = 0.0025; y < 0.6; y += 0.005)
            for (double x = 0.0025; x < 1.2; x += 0.005) {
                const double m = deposit_kg_m2(event, {Vec3(x, y, height), 0.0}, a.tank) * 2.5e-5;
                mass += m;
                moment += m * x;
            }
        CHECK(mass == Approx(1.5e-3).epsilon(1e-3));
        // Reflection at the glass is small here.
        const double drift = event.drift.distance.x() * (0.10 - height);
        CHECK(drift > 0.01);
        CHECK(moment / mass == Approx(spot.x() + drift).margin(0.01));
    }
    CHECK(deposit_kg_m2(event, {Vec3(0.3, 0.1, 0.10), 0.0}, a.tank) == 0.0);
    CHECK(territory.drift.size() == a.grid.size());
}

TEST_CASE("the mean day lifts the mean mass, uniformly distributed") {
    const Aquarium a;
    const auto mean = mean_bioturbation(territory_of(goby(), 3, a.scene()), a.scene());
    double mass = 0.0;
    for (const auto& e : mean) {
        mass += e.mass_kg;
        CHECK(e.inhabitant == 3);
    }
    CHECK(mass == Approx(lifted_kg_d(goby())));
    Inhabitant small = goby();
    small.around_m = {0.1, 0.1};
    small.radius_m = 0.001;
    CHECK(mean_bioturbation(territory_of(small, 0, a.scene()), a.scene()).size() == 1);
    small.around_m = {0.6, 0.3};  // in the rock
    CHECK(mean_bioturbation(territory_of(small, 0, a.scene()), a.scene()).empty());
}
