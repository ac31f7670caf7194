// Flow field from jet theory: bed, glass, rock, duty.
#include "model/flow/jet_flow.h"

#include <catch2/catch.hpp>
#include <cmath>

#include "tests/meshes.h"

using namespace bedshade;

namespace {

Tank tank() {
    Tank t;
    t.length_m = 1.2;
    t.width_m = 0.6;
    t.water_depth_m = 0.55;
    return t;
}

Pump pump(const Vec3& at, const Vec3& toward) {
    Pump p;
    p.position_m = at;
    p.direction = (toward - at).normalized();
    p.flow_m3_s = 5000 / 3.6e6;
    return p;
}

Rock block(const Vec3& min, const Vec3& max) {
    Rock rock;
    rock.shape = RockBox{min, max};
    return rock;
}

Pump level() { return pump({0.02, 0.3, 0.3}, {1.0, 0.3, 0.3}); }

}  // namespace

TEST_CASE("a jet has its centreline speed on the axis and none behind the nozzle") {
    const JetFlow flow(tank(), {level()}, {}, Water{});
    const Jet jet{level().position_m, level().direction,
                  nozzle_speed_m_s(level().flow_m3_s, level().nozzle_m), level().nozzle_m};
    const Vec3 u = flow.velocity_m_s(Vec3(0.52, 0.3, 0.3));
    CHECK(u.x() == Approx(centreline_speed_m_s(jet, 0.5)).epsilon(1e-3));
    CHECK(u.tail<2>().norm() < 1e-3);
    CHECK(flow.velocity_m_s(Vec3(0.01, 0.3, 0.3)).norm() == 0.0);
    CHECK(flow.velocity_m_s(Vec3(1.3, 0.3, 0.3)).norm() == 0.0);
    CHECK(flow.speed_m_s(Vec3(1.3, 0.3, 0.3)) == 0.0);
}

TEST_CASE("the image in the bed gives sqrt(2) of the speed on it, and no flow through it") {
    const Pump low = pump({0.02, 0.3, 0.1}, {1.0, 0.3, 0.1});
    const JetFlow flow(tank(), {low}, {}, Water{});
    const Jet jet{low.position_m, low.direction, nozzle_speed_m_s(low.flow_m3_s, low.nozzle_m),
                  low.nozzle_m};
    CHECK(flow.velocity_m_s(Vec3(1.02, 0.3, 0.0)).x() ==
          Approx(std::sqrt(2.0) * jet_speed_m_s(jet, 1.0, 0.1)));
    const Pump tilted = pump({0.02, 0.3, 0.3}, {0.9, 0.3, 0.0});
    const JetFlow down(tank(), {tilted}, {}, Water{});
    CHECK(std::abs(down.velocity_m_s(Vec3(0.8, 0.3, 0.0)).z()) < 1e-12);
}

TEST_CASE("a jet that meets the bed continues along it") {
    const JetFlow flow(tank(), {pump({0.02, 0.3, 0.2}, {0.5, 0.3, 0.0})}, {}, Water{});
    const Vec3 before = flow.velocity_m_s(Vec3(0.45, 0.3, 0.02));
    const Vec3 beyond = flow.velocity_m_s(Vec3(0.9, 0.3, 0.02));
    CHECK(beyond.x() > 0.3 * before.x());
    CHECK(beyond.z() == 0.0);
    // A straight axis would be 17 cm below the sand here.
    CHECK(beyond.x() > flow.velocity_m_s(Vec3(0.9, 0.3, 0.2)).x());
}

TEST_CASE("far from a vertical jet only the background speed is left at the bed") {
    const JetFlow flow(tank(), {pump({0.6, 0.3, 0.3}, {0.6, 0.3, 0.0})}, {}, Water{});
    CHECK(flow.speed_m_s(Vec3(0.6, 0.3, 0.05)) > 0.5);
    CHECK(flow.speed_m_s(Vec3(0.2, 0.3, 0.05)) == Approx(flow.background_m_s(0)));
}

TEST_CASE("rock shelters from a jet") {
    const Rock wall = block({0.5, 0.2, 0.0}, {0.55, 0.4, 0.5});
    const JetFlow open(tank(), {level()}, {}, Water{});
    const JetFlow blocked(tank(), {level()}, {wall}, Water{});
    const Vec3 before(0.4, 0.3, 0.3), behind(0.8, 0.3, 0.3);
    CHECK(blocked.velocity_m_s(before).norm() == open.velocity_m_s(before).norm());
    CHECK(open.velocity_m_s(behind).norm() > 0.3);
    CHECK(blocked.velocity_m_s(behind).norm() == 0.0);
    const Rock mesh{"mesh", test::box_as_mesh({0.5, 0.2, 0.0}, {0.55, 0.4, 0.5})};
    const JetFlow blocked_by_mesh(tank(), {level()}, {mesh}, Water{});
    CHECK(blocked_by_mesh.velocity_m_s(behind).norm() == 0.0);
    CHECK(blocked_by_mesh.velocity_m_s(before).norm() == open.velocity_m_s(before).norm());
    // Tissue on a rock's face is not sheltered by that rock.
    CHECK(blocked.velocity_m_s(Vec3(0.5, 0.3, 0.3)).norm() > 0.3);
}

TEST_CASE("two jets add momentum, not speed, and opposed ones have no mean velocity") {
    const Pump right = level();
    const Pump left = pump({1.18, 0.3, 0.3}, {0.0, 0.3, 0.3});
    const JetFlow one(tank(), {right}, {}, Water{});
    const JetFlow twice(tank(), {right, right}, {}, Water{});
    const JetFlow opposed(tank(), {right, left}, {}, Water{});
    const Vec3 middle(0.6, 0.3, 0.3);
    CHECK(twice.velocity_m_s(middle).norm() ==
          Approx(std::sqrt(2.0) * one.velocity_m_s(middle).norm()));
    CHECK(opposed.velocity_m_s(middle).norm() < 1e-6);
    CHECK(opposed.speed_m_s(middle) > one.speed_m_s(middle));
    const auto shares = opposed.setting_pump_shares(0, Vec3(0.2, 0.3, 0.3));
    CHECK(shares[0] + shares[1] == Approx(1.0));
    CHECK(shares[0] > 0.9);
}

TEST_CASE("a pulse reduces the mean but not the peak") {
    Pump pulse = level();
    pulse.program = PumpProgram::pulse;
    pulse.duty = 0.25;
    const JetFlow steady(tank(), {level()}, {}, Water{});
    const JetFlow pulsing(tank(), {pulse}, {}, Water{});
    const Vec3 middle(0.6, 0.3, 0.3);
    CHECK(pulsing.peak_speed_m_s(middle) == Approx(steady.peak_speed_m_s(middle)));
    CHECK(pulsing.speed_m_s(middle) == Approx(0.5 * steady.speed_m_s(middle)));
    CHECK(pulsing.velocity_m_s(middle).x() == Approx(0.25 * steady.velocity_m_s(middle).x()));
}

TEST_CASE("the background speed has the magnitude of the return flow") {
    const JetFlow flow(tank(), {level()}, {}, Water{});
    const Jet jet{level().position_m, level().direction,
                  nozzle_speed_m_s(level().flow_m3_s, level().nozzle_m), level().nozzle_m};
    const double back = volume_flux_m3_s(jet, 1.18) / (0.6 * 0.55);
    CHECK(flow.background_m_s(0) > 0.5 * back);
    CHECK(flow.background_m_s(0) < 2.0 * back);
    CHECK(JetFlow(tank(), {}, {}, Water{}).speed_m_s(Vec3(0.6, 0.3, 0.3)) == 0.0);
}
