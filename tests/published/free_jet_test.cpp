// The flow solver against jets: the exact laminar one, and the decay that is measured in turbulent
// ones.
#include "tests/cases/free_jet.h"

#include <catch2/catch.hpp>
#include <cmath>

#include "model/flow/jet_mixing.h"

#include "tests/cases/exact_flows.h"

using namespace bedshade;
using namespace bedshade::cases;

TEST_CASE("the solver keeps the exact laminar round jet, nearer by the square of the cell",
          "[flow][published]") {
    const double coarse = laminar_jet_error(12), fine = laminar_jet_error(24);
    CHECK(fine < 0.03);
    CHECK(order_of(coarse, fine, 2.0) > 1.6);
}

TEST_CASE("the eddy viscosity of a jet slows it down as measured", "[flow][published]") {
    // nu/(U0 d) from 0.0155 (Hussein, Capp & George 1994, laser) to 0.0185 (hot wire).
    const double k = thrust_N(1.0, 5000.0 / 3.6e6, 0.025);
    const double u0_d = nozzle_speed_m_s(5000.0 / 3.6e6, 0.025) * 0.025;
    const double nu = jet_eddy_viscosity_m2_s(k);
    CHECK(nu / u0_d > 0.0150);
    CHECK(nu / u0_d < 0.0185);
    const Jet jet{Vec3::Zero(), Vec3::UnitX(), u0_d / 0.025, 0.025};
    CHECK(3.0 * k / (8.0 * kPi * nu * 1.0) == Approx(centreline_speed_m_s(jet, 1.0)));
}

TEST_CASE("a pump's jet in a large tank decays and spreads as measured on cells of 3 cm",
          "[.][long][flow][published]") {
    FreeJet jet({});
    jet.run_to_steady_state();
    CHECK(jet.flow().body_forces()[0].force_m4_s2() == Approx(jet.thrust_m4_s2()).epsilon(1e-9));
    for (int diameters = 10; diameters <= 40; diameters += 5) {
        INFO(diameters << " diameters");
        CHECK(jet.told_m_s(diameters) == Approx(jet.measured_m_s(diameters)).epsilon(0.10));
    }
    // Past the imposed part (0.46 m) momentum and pressure together stay what they are.
    const double at_20 = jet.impulse_share(20);
    CHECK(std::abs(jet.impulse_share(30) - at_20) < 0.02);
    CHECK(std::abs(jet.impulse_share(40) - at_20) < 0.02);
}

TEST_CASE("jets in open water that nothing was fitted to keep their momentum and decay as measured",
          "[.][long][flow][published]") {
    for (const JetSetup& setup : {JetSetup{5000.0 / 3.6e6, 0.025, 0.03, JetRoom::open},
                                  JetSetup{4000.0 / 3.6e6, 0.032, 0.03, JetRoom::open}}) {
        FreeJet jet(setup);
        jet.run_to_steady_state();
        for (const int diameters : {20, 30, 40}) {
            INFO(diameters << " diameters of " << setup.nozzle_m << " m");
            CHECK(jet.told_m_s(diameters) == Approx(jet.measured_m_s(diameters)).epsilon(0.10));
            CHECK(jet.momentum_share(diameters) == Approx(1.0).margin(0.02));
        }
    }
}
