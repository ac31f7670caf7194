// Spectra against published shapes and exact conversions.
#include "model/light/spectrum.h"

#include <catch2/catch.hpp>
#include <cmath>

using namespace bedshade;

TEST_CASE("the diode's shape is Ohno's", "[published]") {
    // Ohno 2005: three diodes (457, 530, 615 nm; half widths 20, 30, 20 nm; peaks 0.731, 1, 1.66)
    // add up to 0.1295132 at 500 nm.
    const double sum = 0.731 * ohno_shape(500, 457, 20) + ohno_shape(500, 530, 30) +
                       1.66 * ohno_shape(500, 615, 20);
    CHECK(sum == Approx(0.1295132).epsilon(0).margin(1e-7));
    CHECK(ohno_shape(530, 530, 30) == 1.0);
    CHECK(ohno_shape(530 + 0.5 * kOhnoFullWidth * 30, 530, 30) ==
          Approx(0.5).epsilon(0).margin(1e-6));
}

TEST_CASE("photons in a joule", "[published]") {
    // N_A h c, exact in SI since 2019.
    CHECK(photons_umol_per_J(450) == Approx(3.76171).epsilon(0).margin(1e-5));
    CHECK(photons_umol_per_J(400) == Approx(3.34374).epsilon(0).margin(1e-5));
    CHECK(photons_umol_per_J(550) == Approx(4.59764).epsilon(0).margin(1e-5));
    CHECK(photons_umol_per_J(700) == Approx(5.85154).epsilon(0).margin(1e-5));
    // Even photons: the mean energy is the mean of 1/nm, ln(700/400)/300.
    CHECK(photons_umol_per_J(flat_spectrum()) ==
          Approx(300 / std::log(700.0 / 400.0) / 119.6265656).epsilon(1e-4));
}
