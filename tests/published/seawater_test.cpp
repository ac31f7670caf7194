// Sea water against the values published with its equations.
#include "model/flow/seawater.h"

#include <catch2/catch.hpp>

using namespace bedshade;

TEST_CASE("EOS-80 gives the check values of its report") {
    // UNESCO Technical Papers in Marine Science 44 (Fofonoff & Millard 1983), one atmosphere.
    CHECK(eos80_density_kg_m3(35, 25) == Approx(1023.34306).margin(1e-5));
    CHECK(eos80_density_kg_m3(35, 5) == Approx(1027.67547).margin(1e-5));
    CHECK(eos80_density_kg_m3(0, 5) == Approx(999.96675).margin(1e-5));
}

TEST_CASE("viscosity is that of Sharqawy, Lienhard & Zubair 2010") {
    // Eq. 22 evaluated independently.
    CHECK(sharqawy_viscosity_Pa_s(25, 0.035) == Approx(9.58811e-4).margin(1e-8));
    CHECK(sharqawy_viscosity_Pa_s(25, 0.0351650) == Approx(9.59168e-4).margin(1e-8));
    // IAPWS: pure water at 25 degC, 0.8900e-3 (from memory).
    CHECK(sharqawy_viscosity_Pa_s(25, 0.0) == Approx(0.8900e-3).epsilon(1e-3));
}

TEST_CASE("a tank's water: kinematic viscosity and density from 20 to 30 degC") {
    // Density: TEOS-10 (IOC, SCOR & IAPSO 2010), exact Gibbs function; viscosity over density
    // evaluated independently.
    struct Row {
        double temperature_C, density, nu;
    };
    for (const auto& row : {Row{20, 1024.766, 1.0510e-6}, Row{25, 1023.344, 0.9373e-6},
                            Row{28, 1022.395, 0.8785e-6}, Row{30, 1021.726, 0.8427e-6}}) {
        Water water;
        water.temperature_C = row.temperature_C;
        water.salinity_g_kg = 35.16504;
        CHECK(seawater(water).density_kg_m3 == Approx(row.density).margin(5e-3));
        CHECK(seawater(water).kinematic_viscosity_m2_s() == Approx(row.nu).margin(1e-10));
    }
}
