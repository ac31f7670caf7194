// Grains against published formulas evaluated independently, at the reference water: 25 degC,
// practical salinity 35, 1023.34 kg/m3, 9.373e-7 m2/s.
#include "model/sediment/grains.h"

#include <catch2/catch.hpp>
#include <cmath>

#include "model/reef/inhabitant.h"
#include "model/sediment/bioturbation.h"

using namespace bedshade;

namespace {

constexpr Seawater kSea{1023.34, 1023.34 * 9.373e-7};
/// Fresh water as the settling formulas' papers tabulate it: nu 1e-6, (s - 1) 1.65.
constexpr Seawater kFresh{1000.0, 1000.0 * 1e-6};

constexpr Grain quartz(double mm) { return {mm * 1e-3, 2650.0}; }
constexpr Grain aragonite(double mm) { return {mm * 1e-3, 2850.0}; }
constexpr double radians(double degrees) { return degrees * kPi / 180.0; }

}  // namespace

TEST_CASE("threshold of motion is that of Soulsby and Whitehouse 1997") {
    CHECK(dimensionless_diameter(quartz(0.2), kSea) == Approx(5.217).epsilon(1e-3));
    CHECK(critical_shields(quartz(0.2), kSea) == Approx(0.04677).epsilon(1e-3));
    CHECK(critical_stress_Pa(quartz(0.2), kSea) == Approx(0.1493).epsilon(1e-3));
    CHECK(critical_shields(aragonite(0.5), kSea) == Approx(0.03043).epsilon(1e-3));
    CHECK(critical_stress_Pa(aragonite(0.5), kSea) == Approx(0.2727).epsilon(1e-3));
    CHECK(critical_shields(aragonite(2.0), kSea) == Approx(0.04095).epsilon(1e-3));
    CHECK(critical_stress_Pa(aragonite(2.0), kSea) == Approx(1.4675).epsilon(1e-3));
    CHECK(shields(critical_stress_Pa(aragonite(2.0), kSea), aragonite(2.0), kSea) ==
          Approx(0.04095).epsilon(1e-3));
    // Brownlie 1981, quartz 1 mm, 0.0351: published curves differ by up to 20 %.
    CHECK(critical_shields(quartz(1.0), kSea) == Approx(0.0351).epsilon(0.2));
}

TEST_CASE("a downslope makes sand move sooner") {
    // Soulsby 1997, from memory: sin(phi - beta)/sin(phi), phi = 32 degrees.
    CHECK(bed_slope_factor(radians(20), radians(32)) == Approx(0.3923).margin(1e-4));
    CHECK(bed_slope_factor(radians(32), radians(32)) == Approx(0.0).margin(1e-12));
    CHECK(bed_slope_factor(radians(-20), radians(32)) == Approx(1.487).margin(1e-3));
}

TEST_CASE("grains fall as Soulsby 1997 says") {
    CHECK(settling_soulsby_m_s(quartz(0.2), kSea) == Approx(0.02647).margin(1e-4));
    CHECK(settling_soulsby_m_s(aragonite(1.0), kSea) == Approx(0.12617).margin(1e-4));
    CHECK(settling_soulsby_m_s(quartz(0.5), kFresh) == Approx(0.07372).margin(1e-4));
}

TEST_CASE("grains fall as Ferguson and Church 2004 say") {
    CHECK(settling_ferguson_church_m_s(quartz(0.5), kFresh) == Approx(0.07105).margin(1e-4));
    CHECK(settling_ferguson_church_m_s(quartz(0.1), kFresh) == Approx(0.00753).margin(1e-5));
    CHECK(settling_ferguson_church_m_s(quartz(2.0), kFresh) == Approx(0.19641).margin(1e-4));
    CHECK(settling_ferguson_church_m_s(quartz(1.0), kSea, 18.0, 0.4) ==
          Approx(0.18288).margin(1e-4));
}

TEST_CASE("grains fall as Dietrich 1982 says") {
    CHECK(settling_dietrich_m_s(quartz(0.5), kSea, 0.7, 3.5) == Approx(0.06383).margin(1e-4));
    CHECK(settling_dietrich_m_s(aragonite(1.0), kSea, 0.5, 2.0) == Approx(0.10726).margin(1e-4));
    // A sphere; Garcia 2008 fits the same curve with natural logarithms: 0.00762.
    CHECK(settling_dietrich_m_s(quartz(0.1), kSea, 1.0, 6.0) == Approx(0.00762).epsilon(0.01));
}

TEST_CASE("the finest grains fall as Stokes says") {
    const Grain fine = quartz(0.010);
    const double nu = kSea.kinematic_viscosity_m2_s();
    const double stokes = submerged_ratio(fine, kSea) * kGravity_m_s2 * fine.diameter_m *
                          fine.diameter_m / (18.0 * nu);
    CHECK(settling_ferguson_church_m_s(fine, kSea) / stokes == Approx(0.9936).margin(1e-3));
    // Soulsby's own limit is 18 x 1.049/20.72 of Stokes.
    CHECK(settling_soulsby_m_s(fine, kSea) / stokes == Approx(0.9113).margin(1e-3));
}

TEST_CASE("pickup and bed load") {
    // van Rijn 1984 at T = 1 (from memory) and Meyer-Peter & Mueller 1948 at theta = 0.10.
    CHECK(pickup_kg_m2_s(1.0, aragonite(0.5), kSea) == Approx(0.19237).margin(1e-4));
    CHECK(pickup_kg_m2_s(0.0, aragonite(0.5), kSea) == 0.0);
    CHECK(bed_load_m2_s(0.10, aragonite(1.0), kSea) == Approx(1.292e-5).epsilon(1e-3));
    CHECK(bed_load_m2_s(0.04, aragonite(1.0), kSea) == 0.0);
}

TEST_CASE("suspended sand follows Rouse") {
    CHECK(rouse_profile(1.0, 0.5, 0.05, 1.0) == Approx(0.052632).margin(1e-6));
    CHECK(rouse_profile(0.5, 0.5, 0.05, 1.0) == Approx(0.2294).margin(1e-4));
    const double fall = settling_soulsby_m_s(aragonite(0.2), kSea);
    CHECK(rouse_number(fall, 0.05) == Approx(1.46).margin(5e-3));
}

TEST_CASE("layers and falling sand weigh what they must") {
    // 1 mm at 2800 kg/m3 and porosity 0.5: 140 mg/cm2. 1 mg/L falling at 2.91 cm/s: 10.48 mg/cm2/h.
    CHECK(layer_mass_kg_m2(1e-3, 2800.0, 0.5) == Approx(1.40));
    CHECK(settling_flux_kg_m2_s(1e-3, 0.02911) * 3600.0 * 100.0 == Approx(10.48).epsilon(1e-3));
}

TEST_CASE("a sifting goby moves what was counted") {
    // Valenciennea puellaris: 9 mouthfuls a minute, 0.18 cm3 a minute (PALAIOS 34, 2019); settled
    // sand at 1.3 g/cm3: 540 mouthfuls and 14 g an hour, at most 130 cm3 in 12 hours.
    const double bulk_kg_m3 = 1300.0;
    const double mouthful_m3 = 0.18e-6 / 9.0;
    Inhabitant goby;
    goby.from_h = 8.0;
    goby.to_h = 20.0;
    goby.events_per_day = 9.0 * 60.0 * (goby.to_h - goby.from_h);
    goby.mass_kg = mouthful_m3 * bulk_kg_m3;
    CHECK(lifted_kg_d(goby) / bulk_kg_m3 * 1e6 / 12.0 == Approx(10.8));
    CHECK(lifted_kg_d(goby) / 12.0 * 1e3 == Approx(14.0).epsilon(0.01));
    CHECK(lifted_kg_d(goby) / bulk_kg_m3 * 1e6 == Approx(130.0).epsilon(0.01));
}
