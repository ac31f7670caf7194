#include "model/growth/stability.h"

#include <catch2/catch.hpp>
#include <cmath>

#include "tests/layouts.h"

using namespace bedshade;
using namespace bedshade::test;

namespace {

/// A disc or cone on a block of rock 30 cm high in the middle of a tank of 2 x 2 m.
struct Block {
    Layout layout = black_tank();
    Reef reef;

    explicit Block(const Vec2& spot_m, Form form = Form::solitary, double overhang_m = 0.0) {
        layout.taxa = {plain_coral(form, 100.0)};
        layout.taxa[0].overhang_m = overhang_m;
        Rock rock;
        rock.name = "block";
        rock.shape = RockBox{Vec3(0.8, 0.8, 0.0), Vec3(1.2, 1.2, 0.3)};
        layout.rocks = {rock};
        add(colony_at("loose", 0, Vec3(spot_m.x(), spot_m.y(), 0.3), 0.09, 0.05));
        layout.colonies[0].on = "block";
    }
    void add(const Colony& colony) {
        layout.colonies.push_back(colony);
        ColonyState state;
        state.position_m = colony.position_m;
        state.radius_m.fill(0.5 * colony.diameter_m);
        state.height_m = colony.height_m;
        reef.colonies.push_back(state);
    }
    std::optional<Displacement> in(double gust_m_s, const Vec2& heading = Vec2::UnitX()) const {
        Surroundings around(layout);
        around.set_colonies(reef);
        return displacement_in_gust(around, 0, reef.colonies[0], {heading, gust_m_s});
    }
    double holds_m_s() const { return critical_speed_m_s(layout.taxa[0], reef.colonies[0]); }
};

}  // namespace

TEST_CASE("discs and single polyps are loose unless they are attached", "[footing]") {
    for (const Form form : kForms) {
        CAPTURE(to_string(form));
        const Taxon taxon = plain_coral(form, 100.0);
        Colony colony;
        CHECK(is_loose(taxon, colony) ==
              (form == Form::free_living_disc || form == Form::solitary));
        colony.attached = true;
        CHECK_FALSE(is_loose(taxon, colony));
        colony.attached = false;
        CHECK(is_loose(taxon, colony));
    }
}

TEST_CASE("drag and critical speed follow from size and weight", "[footing]") {
    const Block block({1.0, 1.0}, Form::solitary, 0.02);
    // Half rho u2 times 13 x 7 cm; half of a cylinder 9 cm across and 5 cm high at its weight in
    // water; the drag acts 3.5 cm up, the bearing lies 1.35 cm out, so tipping comes before
    // sliding.
    const double drag_N = 0.5 * 1025.0 * 0.2 * 0.2 * 0.13 * 0.07;
    CHECK(bedshade::drag_N(block.layout.taxa[0], block.reef.colonies[0], 0.2) == Approx(drag_N));
    const double volume_m3 = 0.5 * kPi * 0.045 * 0.045 * 0.05;
    const double weight_N = 9.81 * 1500.0 * (1.0 - 1025.0 / 2930.0) * volume_m3;
    const double tips_m_s = 0.2 * std::sqrt(weight_N * 0.0135 / (drag_N * 0.035));
    CHECK(block.holds_m_s() == Approx(tips_m_s).epsilon(1e-3));
    CHECK(0.0135 / 0.035 < kFriction);
}

TEST_CASE("inflated tissue makes a coral easier to move", "[footing]") {
    const Block lean({1.0, 1.0}, Form::solitary, 0.0), full({1.0, 1.0}, Form::solitary, 0.08);
    CHECK(full.holds_m_s() < 0.6 * lean.holds_m_s());
}

TEST_CASE("the strongest gust grows with turbulence and time, and is the mean without",
          "[footing]") {
    CHECK(strongest_gust_m_s(0.1, 0.0, 1.0, 0.5) == 0.1);
    const double day = strongest_gust_m_s(0.1, 0.05, 1.0, 0.5);
    // The median of the maximum of 1440 normal variates is the quantile of 0.5^(1/1440), 3.302.
    CHECK((day - 0.1) / (0.05 / std::sqrt(3.0)) == Approx(3.302).margin(0.02));
    CHECK(strongest_gust_m_s(0.1, 0.05, 7.0, 0.5) > day);
    CHECK(strongest_gust_m_s(0.1, 0.05, 1.0, 0.9) > day);
}

TEST_CASE("a loose coral is stable on level rock below its critical speed", "[footing]") {
    const Block block({1.0, 1.0}, Form::solitary, 0.02);
    CHECK_FALSE(block.in(0.0));
    CHECK_FALSE(block.in(0.99 * block.holds_m_s()));
    const auto moved = block.in(1.01 * block.holds_m_s());
    REQUIRE(moved);
    CHECK(moved->why == FallCause::flow);
    CHECK_FALSE(moved->fell(block.reef.colonies[0].position_m));
    CHECK(moved->to_m.x() == Approx(1.09));  // one diameter
    CHECK(moved->to_m.z() == 0.3);
}

TEST_CASE("a gust moves a loose coral over the edge, downstream", "[footing]") {
    const Block block({1.15, 1.0});
    const auto fall = block.in(1.1 * block.holds_m_s());
    REQUIRE(fall);
    CHECK(fall->why == FallCause::flow);
    CHECK(fall->fell(block.reef.colonies[0].position_m));
    CHECK(fall->to_m.z() == 0.0);
    CHECK(fall->to_m.x() - 0.045 >= 1.2);  // it lies clear of the block
    CHECK(fall->to_m.y() == Approx(1.0));
    CHECK(fall->onto == -1);
    CHECK_FALSE(block.in(1.1 * block.holds_m_s(), -Vec2::UnitX())->fell({1.15, 1.0, 0.3}));
}

TEST_CASE("a coral with an unsupported bearing falls in still water", "[footing]") {
    const auto fall = Block({1.199, 1.0}).in(0.0);
    REQUIRE(fall);
    CHECK(fall->why == FallCause::edge);
    CHECK(fall->to_m.z() == 0.0);
    CHECK(fall->to_m.x() > 1.24);
    CHECK_FALSE(Block({1.18, 1.0}).in(0.0));
}

TEST_CASE("a coral lands on what is below, and the colony is reported", "[footing]") {
    Block block({1.199, 1.0});
    block.layout.taxa.push_back(plain_coral(Form::massive, 100.0));
    block.add(colony_at("other", 1, Vec3(1.7, 1.0, 0.0), 0.1, 0.06));
    block.add(colony_at("below", 1, Vec3(1.27, 1.0, 0.0), 0.1, 0.06));
    const auto fall = block.in(0.0);
    REQUIRE(fall);
    CHECK(fall->onto == 2);
    CHECK(fall->to_m.z() == Approx(0.06).margin(1e-3));
}

TEST_CASE("a loose coral slides down rock too steep for friction", "[footing]") {
    Block block({1.0, 1.0});
    block.layout.rocks[0].shape = RockDome{Vec3(1.0, 1.0, 0.0), 0.2, 0.3};
    block.reef.colonies[0].position_m = Vec3(1.0, 1.0, 0.3);
    CHECK_FALSE(block.in(0.0));  // level at the top
    const double x_m = 0.1;
    const double z_m = 0.3 * std::sqrt(1.0 - x_m * x_m / 0.04);
    block.reef.colonies[0].position_m = Vec3(1.0 + x_m, 1.0, z_m);
    const auto slid = block.in(0.0);
    REQUIRE(slid);
    CHECK(slid->why != FallCause::flow);
    CHECK(slid->to_m.x() > 1.1);
    CHECK(slid->to_m.z() < z_m);
}

TEST_CASE("attached corals and corals on sand do not move", "[footing]") {
    Block block({1.199, 1.0});
    block.layout.colonies[0].attached = true;
    CHECK_FALSE(block.in(3.0));
    block.layout.colonies[0].attached.reset();
    block.reef.colonies[0].position_m = Vec3(0.5, 0.5, 0.0);
    CHECK_FALSE(block.in(3.0));
}

TEST_CASE("a fall ends inside the glass", "[footing]") {
    Block block({1.199, 1.0});
    block.layout.tank.length_m = 1.26;
    const auto fall = block.in(0.0);
    REQUIRE(fall);
    CHECK(fall->to_m.x() <= 1.26 - 0.045);
}
