// Round jets against measured and exact jet figures.
#include "model/flow/jets.h"

#include <catch2/catch.hpp>
#include <cmath>

using namespace bedshade;

namespace {

Jet jet_of(double flow_m3_s, double nozzle_m, double spread) {
    return {Vec3::Zero(), Vec3::UnitX(), nozzle_speed_m_s(flow_m3_s, nozzle_m), nozzle_m, spread};
}

double litres_per_hour(double value) { return value / 3.6e6; }

}  // namespace

TEST_CASE("the decay constant is the one that conserves momentum") {
    CHECK(kJetMomentumProduct == Approx(0.5 * std::sqrt(2.0 * std::log(2.0))).margin(1e-12));
    // Measured products: 0.582 (Panchapakesan & Lumley 1993), 0.602 and 0.545 (Hussein, Capp &
    // George 1994, hot wire and laser).
    CHECK(kJetMomentumProduct > 0.545);
    CHECK(kJetMomentumProduct < 0.602);
    // Integral of U^2 over a section, numerically, is the nozzle's at any distance.
    const Jet jet = jet_of(litres_per_hour(5000), 0.025, kNozzleJetSpread);
    const double nozzle = 0.25 * kPi * 0.025 * 0.025 * std::pow(jet.nozzle_speed_m_s, 2);
    for (const double x : {0.05, 0.2, 1.0}) {
        double sum = 0.0;
        const double step = half_width_m(jet, x) / 200;
        for (int i = 0; i < 1200; ++i) {
            const double r = (i + 0.5) * step;
            sum += 2.0 * kPi * r * step * std::pow(jet_speed_m_s(jet, x, r), 2);
        }
        CHECK(sum == Approx(nozzle).epsilon(1e-4));
    }
}

TEST_CASE("the centreline slows as measured") {
    // B = 5.8, virtual origin at the nozzle (Hussein, Capp & George 1994, as tabulated in Pope
    // 2000, table 5.1, from memory): 2000 L/h through 20 mm, at 0.5 m.
    const Jet jet = jet_of(litres_per_hour(2000), 0.020, kJetMomentumProduct / 5.8);
    CHECK(centreline_speed_m_s(jet, 0.5) == Approx(0.4103).margin(1e-4));
    CHECK(centreline_speed_m_s(jet, 0.01) == Approx(jet.nozzle_speed_m_s));
}

TEST_CASE("thrust of a pump is its momentum flux") {
    // rho Q^2/A for 5000 L/h through 25 mm in water of 1023.34 kg/m3.
    CHECK(nozzle_speed_m_s(litres_per_hour(5000), 0.025) == Approx(2.8294).margin(1e-4));
    CHECK(thrust_N(1023.34, litres_per_hour(5000), 0.025) == Approx(4.0215).margin(1e-3));
    // A wider nozzle with more flow and the same momentum looks the same from afar.
    CHECK(thrust_N(1023.34, litres_per_hour(10000), 0.050) == Approx(4.0215).margin(1e-3));
}

TEST_CASE("entrainment is that of Ricou and Spalding") {
    // Ricou & Spalding 1961: Q/Q0 = 0.32 x/d (from memory); with the spread of Panchapakesan &
    // Lumley 1993 the Gaussian jet gives 4 S x/d times B S over 2 ln 2.
    const double flow = litres_per_hour(5000);
    const Jet jet = jet_of(flow, 0.025, 0.096);
    const double slope = volume_flux_m3_s(jet, 1.0) / flow * 0.025 / 1.0;
    CHECK(slope == Approx(0.32).epsilon(0.03));
    // B = 6.06 measured against 6.13 that conserves momentum: 1.2 % apart.
    CHECK(slope == Approx(0.3223).epsilon(0.015));
}

TEST_CASE("a jet over a bed is fastest there at 1.18 h/S") {
    // Gaussian profile: at height h, S = 0.094 and B = 5.8, 5000 L/h through 25 mm, h = 0.10 m:
    // 0.1987 m/s at 1.2526 m. Ours conserves momentum (B S = 0.5887 rather than 0.5452): faster by
    // that.
    const Jet jet = jet_of(litres_per_hour(5000), 0.025, 0.094);
    double best = 0.0, where = 0.0;
    for (double x = 0.5; x < 2.5; x += 1e-4)
        if (jet_speed_m_s(jet, x, 0.1) > best) {
            best = jet_speed_m_s(jet, x, 0.1);
            where = x;
        }
    CHECK(where == Approx(1.2526).margin(1e-3));
    CHECK(best * (5.8 * 0.094) / kJetMomentumProduct == Approx(0.1987).margin(1e-3));
    // 0.25 to 0.42 U0 d/h is what harbour practice uses along the bed (Fuehrer & Roemisch 1977,
    // from memory); the bed as a slip wall adds sqrt(2).
    const double scale = jet.nozzle_speed_m_s * 0.025 / 0.1;
    CHECK(best / scale > 0.25);
    CHECK(best * std::sqrt(2.0) / scale < 0.45);
}
