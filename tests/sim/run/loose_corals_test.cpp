// Corals that walk or fall, through whole seasons.
#include "sim/run/loose_corals.h"

#include <catch2/catch.hpp>
#include <cmath>

#include "sim/run/forecast.h"
#include "sim/verdict/flag_detector.h"

#include "tests/layouts.h"

using namespace bedshade;
using namespace bedshade::test;

namespace {

/// A small black tank with a lamp, its back half a rock of 25 cm.
Layout tank_with_shelf() {
    Layout layout = black_tank();
    layout.season.months = 4;
    layout.tank.length_m = layout.tank.width_m = 0.6;
    layout.lamps = {lamp_at(Vec3(0.3, 0.3, 0.9), LampShape::point, 0.0, 400.0)};
    Rock rock;
    rock.name = "shelf";
    rock.shape = RockBox{Vec3(0.0, 0.3, 0.0), Vec3(0.6, 0.6, 0.25)};
    layout.rocks = {rock};
    layout.taxa = {plain_coral(Form::free_living_disc, 100.0), plain_coral(Form::massive, 100.0)};
    layout.taxa[1].id = "dome";
    return layout;
}

class Places final : public SnapshotSink {
  public:
    void take(const Snapshot& snapshot) override {
        std::vector<Vec3> now;
        for (const ColonyState& state : snapshot.reef.colonies) now.push_back(state.position_m);
        at_m.push_back(now);
        for (const Fall& fall : snapshot.reef.falls) falls.push_back(fall);
    }
    std::vector<std::vector<Vec3>> at_m;  ///< by frame and colony
    std::vector<Fall> falls;
};

struct Run {
    Places places;
    std::vector<Flag> flags;
};

Run run_of(const Layout& layout, const RunOptions& options = {}) {
    Forecast forecast(layout, options, run_serially);
    Run run;
    FlagDetector detector(layout);
    forecast.run({&run.places, &detector}, [](double) { return true; });
    run.flags = detector.flags();
    return run;
}

bool has(const std::vector<Flag>& flags, FlagKind kind) {
    for (const Flag& flag : flags)
        if (flag.kind == kind) return true;
    return false;
}

}  // namespace

TEST_CASE("a walker stays on the sand, is stopped by rock and glass, and strays", "[loose]") {
    Layout layout = tank_with_shelf();
    layout.taxa[0].mobility_m_d = 0.08;
    layout.colonies = {colony_at("walker", 0, Vec3(0.3, 0.15, 0.0), 0.05, 0.015)};
    const Run run = run_of(layout);
    double farthest_m = 0.0;
    for (const auto& at : run.places.at_m) {
        CHECK(at[0].z() == 0.0);
        CHECK(at[0].y() <= 0.3 - 0.02);
        CHECK(at[0].y() >= 0.025);
        CHECK(at[0].x() >= 0.025);
        CHECK(at[0].x() <= 0.575);
        farthest_m = std::max(farthest_m, (at[0] - Vec3(0.3, 0.15, 0.0)).norm());
    }
    CHECK(farthest_m > 0.1);
    CHECK(has(run.flags, FlagKind::strayed));
    CHECK(run.places.falls.empty());
}

TEST_CASE("a walk is the same in weeks and in fortnights, and another in another member",
          "[loose]") {
    Layout layout = tank_with_shelf();
    layout.taxa[0].mobility_m_d = 0.02;
    layout.colonies = {colony_at("walker", 0, Vec3(0.3, 0.15, 0.0), 0.05, 0.015)};
    layout.season.months = 1;
    const auto day_28 = [&](double step_d, const RunOptions& options) {
        layout.season.step_d = step_d;
        return run_of(layout, options).places.at_m[static_cast<std::size_t>(28.0 / step_d)][0];
    };
    CHECK((day_28(7.0, {}) - day_28(14.0, {})).norm() < 1e-12);
    RunOptions other;
    other.member = 1;
    CHECK((day_28(7.0, {}) - day_28(7.0, other)).norm() > 1e-3);
}

TEST_CASE("two walkers do not walk through each other", "[loose]") {
    Layout layout = tank_with_shelf();
    layout.taxa[0].mobility_m_d = 0.15;  // a quarter of it for their size
    layout.colonies = {colony_at("one", 0, Vec3(0.2, 0.15, 0.0), 0.08, 0.02),
                       colony_at("two", 0, Vec3(0.4, 0.15, 0.0), 0.08, 0.02)};
    double closest_m = 1.0;
    for (const auto& at : run_of(layout).places.at_m)
        closest_m = std::min(closest_m, (at[0] - at[1]).norm());
    CHECK(closest_m > 0.075);
    CHECK(closest_m < 0.15);  // they did meet
}

TEST_CASE("a fast walker makes for the light", "[loose]") {
    Layout layout = tank_with_shelf();
    layout.rocks.clear();
    layout.tank.length_m = 1.5;
    layout.lamps[0].centre_m.x() = 1.3;
    layout.taxa[0].mobility_m_d = 0.2;
    layout.colonies = {colony_at("walker", 0, Vec3(0.2, 0.3, 0.0), 0.05, 0.015)};
    const auto at_m = run_of(layout).places.at_m;
    CHECK(at_m[8][0].x() > 0.8);
}

TEST_CASE("a disc on the edge of a shelf falls, and is told with whom it fell on", "[loose]") {
    Layout layout = tank_with_shelf();
    layout.colonies = {colony_at("disc", 0, Vec3(0.3, 0.302, 0.25), 0.08, 0.02),
                       colony_at("fixed", 0, Vec3(0.1, 0.302, 0.25), 0.08, 0.02),
                       colony_at("dome", 1, Vec3(0.3, 0.22, 0.0), 0.1, 0.05)};
    layout.colonies[1].attached = true;
    const Run run = run_of(layout);
    REQUIRE(run.places.falls.size() == 1);
    CHECK(run.places.falls[0].colony == 0);
    CHECK(run.places.falls[0].onto == 2);
    CHECK(run.places.at_m[0][0].z() == 0.25);
    CHECK(run.places.at_m[1][0].z() == Approx(0.05).margin(2e-3));
    CHECK(run.places.at_m.back()[1].z() == 0.25);
    CHECK(has(run.flags, FlagKind::fallen));
}

TEST_CASE("a walker set on a shelf leaves it for the sand", "[loose]") {
    Layout layout = tank_with_shelf();
    layout.taxa[0].mobility_m_d = 0.05;
    layout.colonies = {colony_at("walker", 0, Vec3(0.3, 0.34, 0.25), 0.05, 0.015)};
    const Run run = run_of(layout);
    REQUIRE(run.places.falls.size() == 1);
    CHECK(run.places.at_m.back()[0].z() == 0.0);
    CHECK(run.places.at_m.back()[0].y() < 0.3);
}

TEST_CASE("however far it walks, a walker never floats: past the edge of its rock it falls",
          "[loose]") {
    Layout layout = tank_with_shelf();
    layout.season.months = 1;
    layout.taxa[0].mobility_m_d = 0.3;
    layout.colonies = {colony_at("walker", 0, Vec3(0.3, 0.4, 0.25), 0.02, 0.01)};
    int fell = 0;
    for (std::uint64_t seed = 1; seed <= 20; ++seed) {
        const Run run = run_of(layout, {seed, 0});
        for (const auto& at : run.places.at_m) {
            INFO("seed " << seed << ", at " << at[0].transpose());
            CHECK((at[0].z() == 0.0 || at[0].y() >= 0.3));
        }
        for (const Fall& fall : run.places.falls) {
            ++fell;
            CHECK(fall.from_m.z() == 0.25);
            CHECK(fall.to_m.y() < 0.3);
            CHECK(fall.to_m.y() > 0.27);  // beside the edge, not where the day's walk would end
        }
    }
    CHECK(fell > 5);
}

TEST_CASE("the brighter side is where more light falls", "[loose]") {
    std::vector<double> even(2 * kPatches, 5.0);
    CHECK(brighter_side(even, 2).norm() < 1e-12);
    std::vector<double> leaning;
    for (int k = 0; k < kPatches; ++k)
        leaning.push_back(100.0 * (1.0 + 0.3 * std::cos(sector_angle_rad(k % kSectors))));
    CHECK((brighter_side(leaning, 1) - Vec2(0.3, 0.0)).norm() < 1e-9);
    CHECK(brighter_side({}, 1).isZero());
}
