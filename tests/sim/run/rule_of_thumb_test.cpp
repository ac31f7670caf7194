// What the inverse-square rule misses, where it can be worked out by hand.
#include "sim/run/rule_of_thumb.h"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <numeric>

#include "sim/input/layout/layout_reader.h"

#include "tests/layouts.h"

using namespace bedshade;
using namespace bedshade::test;

namespace {

const Vec3 kBelow(1.0, 1.0, 0.0), kFar(1.6, 1.0, 0.0);

Layout point_lamp_tank() {
    Layout layout = black_tank();
    layout.lamps.push_back(lamp_at({1.0, 1.0, 0.8}, LampShape::point, 0.0, 100.0));
    return layout;
}

RuleOfThumb rule_in(const Layout& layout) {
    const Forecast forecast(layout, {}, run_serially);
    const std::vector<Vec3> spots{kBelow, kFar};
    auto rule = rule_of_thumb(layout, forecast, spots);
    REQUIRE(rule);
    return *rule;
}

double change(const RuleAtSpot& spot, LeftOut what) {
    return spot.change_umol_m2_s[static_cast<std::size_t>(what)];
}

/// Holds every change but those named to nothing.
void check_no_other(const RuleAtSpot& spot, std::initializer_list<LeftOut> named) {
    for (std::size_t k = 0; k < kLeftOut; ++k)
        if (std::count(named.begin(), named.end(), static_cast<LeftOut>(k)) == 0)
            CHECK(spot.change_umol_m2_s[k] == Approx(0.0).margin(1e-9));
}

}  // namespace

TEST_CASE("without water, walls and rock the rule misses the beam and the slant alone") {
    const RuleOfThumb rule = rule_in(point_lamp_tank());
    CHECK(rule.lamp == "lamp");
    CHECK(rule.reference_m.isApprox(Vec3(1.0, 1.0, 0.4)));
    // A cos^1 lamp: I = flux (m + 1) / (2 pi), on a level sensor 40 cm below it.
    CHECK(rule.reference_umol_m2_s == Approx(100.0 / kPi / 0.16).epsilon(1e-6));
    const RuleAtSpot &below = rule.spots[0], &far = rule.spots[1];
    CHECK(below.rule_umol_m2_s == Approx(0.25 * rule.reference_umol_m2_s).epsilon(1e-6));
    CHECK(below.found_umol_m2_s == Approx(below.rule_umol_m2_s).epsilon(1e-6));
    check_no_other(below, {LeftOut::beam});
    // 60 cm aside and 80 cm below: 1 m away, cos = 0.8 at lamp and sensor.
    CHECK(far.rule_umol_m2_s == Approx(0.16 * rule.reference_umol_m2_s).epsilon(1e-6));
    CHECK(change(far, LeftOut::beam) == Approx((0.64 - 1.0) * far.rule_umol_m2_s).epsilon(1e-5));
    check_no_other(far, {LeftOut::beam});
}

TEST_CASE("absorption takes exp(-k) of every metre beyond the reference") {
    Layout layout = point_lamp_tank();
    layout.water.attenuation_per_m = 1.5;
    const RuleOfThumb rule = rule_in(layout);
    const RuleAtSpot& below = rule.spots[0];
    CHECK(change(below, LeftOut::absorption) ==
          Approx((std::exp(-1.5 * 0.4) - 1.0) * below.rule_umol_m2_s).epsilon(1e-5));
    check_no_other(below, {LeftOut::absorption});
    // On the slant: 0.5 m of depth is 0.5 / 0.8 m of way.
    const RuleAtSpot& far = rule.spots[1];
    const double dry = far.rule_umol_m2_s + change(far, LeftOut::beam);
    CHECK(change(far, LeftOut::absorption) ==
          Approx((std::exp(-1.5 * (0.5 / 0.8 - 0.1)) - 1.0) * dry).epsilon(1e-5));
}

TEST_CASE("bending spreads light less: it brightens what lies straight below") {
    // Straight down, near the axis, water of index n brings depth d to d/n: distances 0.3 + d/n.
    Layout layout = point_lamp_tank();
    layout.water.refractive_index = 1.34;
    const RuleAtSpot below = rule_in(layout).spots[0];
    const double ratio = std::pow((0.3 + 0.1 / 1.34) / (0.3 + 0.5 / 1.34), 2.0);
    CHECK(below.found_umol_m2_s == Approx(ratio / 0.25 * below.rule_umol_m2_s).epsilon(1e-4));
    CHECK(change(below, LeftOut::refraction) > 0.0);
    check_no_other(below, {LeftOut::refraction});
}

TEST_CASE("rock takes what it shades, walls add, and a large lamp lights below itself less") {
    Layout layout = point_lamp_tank();
    layout.rocks.push_back({"slab", RockBox{{1.2, 0.8, 0.1}, {1.6, 1.2, 0.15}}});
    RuleAtSpot far = rule_in(layout).spots[1];
    CHECK(far.found_umol_m2_s == 0.0);
    CHECK(change(far, LeftOut::shade) ==
          Approx(-far.rule_umol_m2_s - change(far, LeftOut::beam)).epsilon(1e-6));
    check_no_other(far, {LeftOut::beam, LeftOut::shade});

    layout = point_lamp_tank();
    for (Wall& wall : layout.tank.walls) wall.kind = WallKind::glass;
    layout.water.refractive_index = 1.34;
    far = rule_in(layout).spots[1];
    CHECK(change(far, LeftOut::walls) > 0.0);
    check_no_other(far, {LeftOut::beam, LeftOut::refraction, LeftOut::walls});

    layout = point_lamp_tank();
    layout.lamps[0].shape = LampShape::disc;
    layout.lamps[0].size_m = Vec2(0.4, 0.4);
    // A wide lamp falls off more slowly than a point, so the bed has more of the reference.
    const RuleAtSpot below = rule_in(layout).spots[0];
    CHECK(change(below, LeftOut::lamp_size) > 0.1 * below.rule_umol_m2_s);
    check_no_other(below, {LeftOut::lamp_size});
}

TEST_CASE("what is left out adds up to what the rule misses, in a tank that has it all") {
    const Layout layout =
        read_layout(std::string(BEDSHADE_SOURCE_DIR) + "/scenarios/ledge_over_bed.toml").layout;
    const Forecast forecast(layout, {}, run_serially);
    const std::vector<Vec3> spots{{0.34, 0.30, 0.0}, {0.9, 0.05, 0.0}, {1.15, 0.05, 0.02}};
    const auto rule = rule_of_thumb(layout, forecast, spots);
    REQUIRE(rule);
    REQUIRE(rule->spots.size() == 3);
    for (const RuleAtSpot& spot : rule->spots) {
        const double sum = std::accumulate(spot.change_umol_m2_s.begin(),
                                           spot.change_umol_m2_s.end(), spot.rule_umol_m2_s);
        CHECK(sum == Approx(spot.found_umol_m2_s).epsilon(1e-9));
        CHECK(change(spot, LeftOut::walls) > 0.0);
        CHECK(change(spot, LeftOut::absorption) < 0.0);
    }
}

TEST_CASE("no rule is told where there is nothing to scale it by") {
    const std::vector<Vec3> spots{kBelow};
    Layout layout = black_tank();
    CHECK_FALSE(rule_of_thumb(layout, Forecast(layout, {}, run_serially), spots));
    layout = point_lamp_tank();
    layout.rocks.push_back({"lid", RockBox{{0.5, 0.5, 0.45}, {1.5, 1.5, 0.49}}});
    CHECK_FALSE(rule_of_thumb(layout, Forecast(layout, {}, run_serially), spots));
}
