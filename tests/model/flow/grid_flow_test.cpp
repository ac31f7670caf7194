// The tank's flow solved on a grid.
#include "model/flow/grid_flow.h"

#include <catch2/catch.hpp>
#include <cmath>

namespace {

using namespace bedshade;

/// Coarse, so that tests are quick.
constexpr double kCell_m = 0.06;

Pump pump(const Vec3& at, const Vec3& toward) {
    Pump p;
    p.position_m = at;
    p.direction = (toward - at).normalized();
    p.nozzle_m = 0.04;
    p.flow_m3_s = 6000 / 3.6e6;
    return p;
}

FlowScene scene(std::vector<Pump> pumps, std::vector<Rock> rocks = {}) {
    FlowScene s;
    s.tank.length_m = 0.9;
    s.tank.width_m = 0.48;
    s.tank.water_depth_m = 0.42;
    s.pumps = std::move(pumps);
    s.rocks = std::move(rocks);
    return s;
}

Pump level() { return pump({0.03, 0.24, 0.21}, {0.9, 0.24, 0.21}); }

Rock block(const Vec3& min, const Vec3& max) {
    Rock rock;
    rock.shape = RockBox{min, max};
    return rock;
}

double mean_bed_speed_m_s(const GridFlow& flow) {
    double sum = 0.0;
    int count = 0;
    for (double x = 0.05; x < 0.9; x += 0.1)
        for (double y = 0.04; y < 0.48; y += 0.1, ++count) sum += flow.speed_m_s(Vec3(x, y, 0.05));
    return sum / count;
}

}  // namespace

TEST_CASE("a tank without a running pump is still, and beyond the glass nothing flows") {
    const GridFlow still(scene({}), kCell_m);
    CHECK(still.settings().size() == 1);
    CHECK(still.speed_m_s(Vec3(0.4, 0.2, 0.2)) == 0.0);
    const GridFlow flow(scene({level()}), kCell_m);
    CHECK(flow.speed_m_s(Vec3(0.4, 0.2, -0.01)) == 0.0);
    CHECK(flow.velocity_m_s(Vec3(1.0, 0.2, 0.2)).norm() == 0.0);
}

TEST_CASE("a jet is itself at its nozzle, and the water comes back beside it") {
    const GridFlow flow(scene({level()}), kCell_m);
    const Jet jet{level().position_m, level().direction,
                  nozzle_speed_m_s(level().flow_m3_s, level().nozzle_m), level().nozzle_m};
    CHECK(flow.velocity_m_s(Vec3(0.13, 0.24, 0.21)).x() == Approx(jet.nozzle_speed_m_s));
    CHECK(flow.velocity_m_s(Vec3(0.7, 0.24, 0.21)).x() > 0.2);
    for (const double y : {0.04, 0.44})
        for (const double z : {0.04, 0.38}) CHECK(flow.velocity_m_s(Vec3(0.5, y, z)).x() < -0.01);
}

TEST_CASE("no water is made or lost: what goes up a tank comes down it") {
    const GridFlow flow(scene({level()}), kCell_m);
    const TankFlow& field = flow.field(0);
    for (const int section : {3, 8, 12}) {
        double net = 0.0, forth = 0.0;
        for_cells({{section, 0, 0}, {section + 1, field.grid.cells[1], field.grid.cells[2]}},
                  [&](const Cells& c) {
                      const double u = field.velocity_m_s[0][field.grid.at(c)];
                      net += u;
                      forth += std::max(u, 0.0);
                  });
        CHECK(forth > 0.1);
        CHECK(std::abs(net) < 1e-9 * forth);
    }
}

TEST_CASE("rock stands in the flow's way, and tissue on its face is in the water beside it") {
    const Rock wall = block({0.42, 0.12, 0.0}, {0.54, 0.36, 0.36});
    const GridFlow open(scene({level()}), kCell_m), blocked(scene({level()}, {wall}), kCell_m);
    const Vec3 behind(0.66, 0.24, 0.21);
    CHECK(blocked.velocity_m_s(behind).x() < 0.3 * open.velocity_m_s(behind).x());
    CHECK(blocked.velocity_m_s(Vec3(0.48, 0.24, 0.2)).norm() == 0.0);
    CHECK(blocked.speed_m_s(Vec3(0.48, 0.24, 0.365)) > 0.02);
}

TEST_CASE("a field depends on its tank alone, and a mirrored tank has the mirrored field") {
    const Pump low = pump({0.03, 0.14, 0.21}, {0.9, 0.30, 0.10});
    const Pump mirrored = pump({0.03, 0.34, 0.21}, {0.9, 0.18, 0.10});
    const GridFlow flow(scene({low}), kCell_m), again(scene({low}), kCell_m);
    CHECK(flow.field(0).velocity_m_s == again.field(0).velocity_m_s);
    CHECK(flow.field(0).turbulent_speed_m_s == again.field(0).turbulent_speed_m_s);
    const GridFlow other(scene({mirrored}), kCell_m);
    for (const Vec3& p : {Vec3(0.3, 0.2, 0.05), Vec3(0.6, 0.1, 0.3), Vec3(0.8, 0.4, 0.1)}) {
        const Vec3 here = flow.velocity_m_s(p);
        const Vec3 there = other.velocity_m_s(Vec3(p.x(), 0.48 - p.y(), p.z()));
        CHECK((here - Vec3(there.x(), -there.y(), there.z())).norm() < 1e-6);
    }
}

TEST_CASE("a pump turned toward the bed stirs it more than one turned away") {
    const GridFlow down(scene({pump({0.03, 0.24, 0.21}, {0.5, 0.24, 0.0})}), kCell_m);
    const GridFlow up(scene({pump({0.03, 0.24, 0.21}, {0.5, 0.24, 0.42})}), kCell_m);
    const Vec3 bed(0.4, 0.24, 0.05);
    CHECK(down.speed_m_s(bed) > 2.0 * up.speed_m_s(bed));
}

TEST_CASE(
    "a pulsing pump has a field for each of its states, and the peak is that of the running one") {
    Pump pulse = level();
    pulse.program = PumpProgram::pulse;
    pulse.duty = 0.25;
    const GridFlow steady(scene({level()}), kCell_m), pulsing(scene({pulse}), kCell_m);
    REQUIRE(pulsing.settings().size() == 2);
    const Vec3 p(0.6, 0.24, 0.2);
    CHECK(pulsing.peak_speed_m_s(p) == Approx(steady.speed_m_s(p)));
    CHECK(pulsing.velocity_m_s(p).x() == Approx(0.25 * steady.velocity_m_s(p).x()));
}

TEST_CASE("the bed's flow does not hang on the size of the cells", "[.][long][flow]") {
    const GridFlow coarse(scene({level()}), 0.06), middle(scene({level()}), 0.04),
        fine(scene({level()}), 0.03);
    CHECK(mean_bed_speed_m_s(coarse) == Approx(mean_bed_speed_m_s(fine)).epsilon(0.25));
    CHECK(mean_bed_speed_m_s(middle) == Approx(mean_bed_speed_m_s(fine)).epsilon(0.15));
}

TEST_CASE("extreme pumps and tanks are solved with bounded speeds") {
    FlowScene faint = scene({level()});
    faint.pumps[0].flow_m3_s = 1e-12;
    FlowScene furious = scene({level()});
    furious.pumps[0].flow_m3_s = 10.0;
    FlowScene flat = scene({pump({0.03, 0.24, 0.0005}, {0.9, 0.24, 0.0005})});
    flat.tank.water_depth_m = 0.001;
    const FlowScene filled = scene({level()}, {block({0.0, 0.0, 0.0}, {0.9, 0.48, 0.42})});
    for (const FlowScene& odd : {faint, furious, flat, filled}) {
        const GridFlow flow(odd, 0.1);
        const double speed = flow.speed_m_s(Vec3(0.5, 0.3, 0.0005));
        CHECK(speed >= 0.0);
        CHECK(speed < 1e5);
    }
}
