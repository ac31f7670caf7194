#include "model/growth/walking.h"

#include <catch2/catch.hpp>
#include <cmath>

#include "tests/layouts.h"

using namespace bedshade;
using namespace bedshade::test;

namespace {

Taxon walker(double mobility_m_d) {
    Taxon taxon = plain_coral(Form::free_living_disc, 100.0);
    taxon.mobility_m_d = mobility_m_d;
    return taxon;
}

ColonyState standing_at(const Colony& colony) {
    ColonyState state;
    state.position_m = colony.position_m;
    state.radius_m.fill(0.5 * colony.diameter_m);
    state.height_m = colony.height_m;
    return state;
}

/// A walker in the middle of a tank of 2 x 2 m, with other objects of the test.
struct Ground {
    Layout layout = black_tank();
    Reef reef;

    Ground() {
        layout.taxa = {walker(0.1)};
        add(colony_at("walker", 0, Vec3(1.0, 1.0, 0.0), 0.06, 0.02));
    }
    void add(const Colony& colony) {
        layout.colonies.push_back(colony);
        reef.colonies.push_back(standing_at(colony));
    }
    Vec3 sent(const Vec2& walk_m) const {
        Surroundings around(layout);
        around.set_colonies(reef);
        return walked_to_m(around, 0, reef.colonies[0], walk_m);
    }
};

}  // namespace

TEST_CASE("a day's walk is within the taxon's mobility, in random directions", "[walking]") {
    const Taxon taxon = walker(0.02);
    Vec2 sum = Vec2::Zero();
    double longest_m = 0.0, length_m = 0.0;
    constexpr int kDays = 4000;
    for (int day = 0; day < kDays; ++day) {
        const Vec2 walk = days_walk_m(taxon, 0.03, Vec2::Zero(), 7, 0, day, 3);
        sum += walk;
        length_m += walk.norm();
        longest_m = std::max(longest_m, walk.norm());
    }
    CHECK(longest_m <= 0.02);
    CHECK(longest_m > 0.0199);
    CHECK(length_m / kDays == Approx(0.01).epsilon(0.03));
    // The mean square of a sum of independent steps is the sum of theirs, L2/3 a day.
    CHECK(sum.norm() < 3.0 * 0.02 * std::sqrt(kDays / 3.0));
}

TEST_CASE("larger discs walk less", "[walking]") {
    const Taxon taxon = walker(0.02);
    CHECK(mobility_m_d(taxon, 0.01) == 0.02);
    CHECK(mobility_m_d(taxon, kFullMobilityDiameter_m) == 0.02);
    CHECK(mobility_m_d(taxon, 2.0 * kFullMobilityDiameter_m) == Approx(0.005));
    const Vec2 small = days_walk_m(taxon, 0.03, Vec2::Zero(), 1, 0, 5, 2);
    CHECK((days_walk_m(taxon, 0.10, Vec2::Zero(), 1, 0, 5, 2) - 0.25 * small).norm() < 1e-12);
}

TEST_CASE("a walk depends only on seed, member, day and colony", "[walking]") {
    const Taxon taxon = walker(0.02);
    const auto walk = [&](std::uint64_t seed, std::uint32_t member, int day, int colony) {
        return days_walk_m(taxon, 0.03, Vec2::Zero(), seed, member, day, colony);
    };
    CHECK(walk(1, 0, 5, 2) == walk(1, 0, 5, 2));
    CHECK(walk(1, 0, 5, 2) != walk(2, 0, 5, 2));
    CHECK(walk(1, 0, 5, 2) != walk(1, 1, 5, 2));
    CHECK(walk(1, 0, 5, 2) != walk(1, 0, 6, 2));
    CHECK(walk(1, 0, 5, 2) != walk(1, 0, 5, 3));
}

TEST_CASE("only fast kinds show phototaxis", "[walking]") {
    const auto way_x_m = [](double mobility_m_d, const Vec2& brighter) {
        const Taxon taxon = walker(mobility_m_d);
        double x_m = 0.0;
        for (int day = 0; day < 2000; ++day)
            x_m += days_walk_m(taxon, 0.03, brighter, 1, 0, day, 0).x() / mobility_m_d;
        return x_m / 2000.0;
    };
    CHECK(way_x_m(0.3, Vec2(0.3, 0.0)) > 0.25);
    CHECK(way_x_m(0.3, Vec2(-0.3, 0.0)) < -0.25);
    CHECK(std::abs(way_x_m(0.02, Vec2(0.3, 0.0))) < 0.03);
}

TEST_CASE("a walker completes its walk without obstacles", "[walking]") {
    const Ground ground;
    CHECK((ground.sent({0.2, -0.1}) - Vec3(1.2, 0.9, 0.0)).norm() < 1e-12);
    CHECK(ground.sent({0.0, 0.0}) == Vec3(1.0, 1.0, 0.0));
}

TEST_CASE("glass stops a walker at its rim", "[walking]") {
    const Ground ground;
    const Vec3 at = ground.sent({1.5, 0.0});
    CHECK(at.x() < 2.0 - 0.03);
    CHECK(at.x() > 2.0 - 0.03 - 0.011);
}

TEST_CASE("rock stops a walker, and an arch over its path does not", "[walking]") {
    Ground ground;
    Rock rock;
    rock.name = "block";
    rock.shape = RockBox{Vec3(1.2, 0.8, 0.0), Vec3(1.4, 1.2, 0.1)};
    ground.layout.rocks = {rock};
    const Vec3 at = ground.sent({0.5, 0.0});
    CHECK(at.x() <= 1.17);
    CHECK(at.x() > 1.16);
    ground.layout.rocks[0].shape = RockBox{Vec3(1.2, 0.8, 0.05), Vec3(1.4, 1.2, 0.1)};
    CHECK(ground.sent({0.5, 0.0}).x() == Approx(1.5));
}

TEST_CASE("another coral stops a walker, which can still walk away from it", "[walking]") {
    Ground ground;
    ground.layout.taxa.push_back(plain_coral(Form::massive, 100.0));
    ground.add(colony_at("dome", 1, Vec3(1.2, 1.0, 0.0), 0.1, 0.05));
    const Vec3 at = ground.sent({0.3, 0.0});
    CHECK(at.x() < 1.2 - 0.05 - 0.03);
    CHECK(at.x() > 1.2 - 0.05 - 0.03 - 0.015);
    ground.reef.colonies[0].position_m = Vec3(1.13, 1.0, 0.0);  // it lies half on the dome
    CHECK(ground.sent({-0.2, 0.0}).x() == Approx(0.93));
    CHECK(ground.sent({0.2, 0.0}).x() == Approx(1.13));
}

TEST_CASE("surroundings are updated for a colony that has moved", "[walking]") {
    Ground ground;
    ground.layout.taxa.push_back(plain_coral(Form::massive, 100.0));
    ground.add(colony_at("dome", 1, Vec3(1.2, 1.0, 0.0), 0.1, 0.05));
    Surroundings around(ground.layout);
    around.set_colonies(ground.reef);
    ground.reef.colonies[1].position_m = Vec3(0.3, 0.3, 0.0);
    around.update_colony(1, ground.reef.colonies[1]);
    CHECK(walked_to_m(around, 0, ground.reef.colonies[0], {0.3, 0.0}).x() == Approx(1.3));
    CHECK(around.colonies_near({Vec3(0.3, 0.3, 0.0), Vec3(0.3, 0.3, 0.1)}) == std::vector<int>{1});
    CHECK(around.colonies_near({Vec3(1.2, 1.0, 0.0), Vec3(1.2, 1.0, 0.1)}).empty());
    ground.reef.colonies[1].present = false;
    around.update_colony(1, ground.reef.colonies[1]);
    CHECK(around.colonies_near({Vec3(0.3, 0.3, 0.0), Vec3(0.3, 0.3, 0.1)}).empty());
}
