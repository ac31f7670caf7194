// Light and photosynthesis against worked values from outside.
#include <array>
#include <catch2/catch.hpp>
#include <cmath>
#include <numbers>
#include <vector>

#include "model/growth/energy.h"

using namespace bedshade;

namespace {

/// tanh(E/Ek) alone: a whole day at an even light.
double saturation_share(double light_umol_m2_s, double ek_umol_m2_s) {
    Tissue tissue;
    tissue.production_ratio = 1.0;
    tissue.saturation_umol_m2_s = ek_umol_m2_s;
    return gross_per_day(tissue, square_day(24.0), light_umol_m2_s);
}

/// A day that follows half a sine wave, as many short lamps one after the other: the mean of
/// tanh(2 sin pi t) seen through the program's own day.
double sine_day_gross(std::size_t slices) {
    std::vector<LampDay> days;
    std::vector<double> plateau;
    for (std::size_t i = 0; i < slices; ++i) {
        const double width = 24.0 / static_cast<double>(slices);
        days.push_back({static_cast<double>(i) * width, static_cast<double>(i + 1) * width, 0.0});
        const double t = (static_cast<double>(i) + 0.5) / static_cast<double>(slices);
        plateau.push_back(2.0 * std::sin(std::numbers::pi * t));
    }
    Tissue tissue;
    tissue.production_ratio = 1.0;
    tissue.saturation_umol_m2_s = 1.0;
    return gross_per_day(tissue, light_day(days), plateau);
}

}  // namespace

TEST_CASE("photosynthesis saturates as Jassby and Platt 1976 write it") {
    // P = Pm tanh(alpha I / Pm) with alpha = 0.05, Pm = 10, so Ek = 200; worked by hand calculator.
    CHECK(10.0 * saturation_share(200.0, 200.0) == Approx(7.615942).epsilon(1e-7));
    CHECK(10.0 * saturation_share(400.0, 200.0) == Approx(9.640276).epsilon(1e-7));
}

TEST_CASE("the initial slope is that of the saturation light") {
    // d tanh(E/Ek)/dE at 0 is 1/Ek: alpha = 0.05 with Pm = 10 (Jassby & Platt 1976).
    CHECK(10.0 * saturation_share(0.01, 200.0) / 0.01 == Approx(0.05).epsilon(1e-6));
}

TEST_CASE("a sine day that peaks at twice Ek photosynthesises at 0.758361 of its most") {
    // The mean of tanh(2 sin pi t) over t in [0, 1], by numerical quadrature elsewhere.
    CHECK(sine_day_gross(240) == Approx(0.758361).margin(2e-5));
}

TEST_CASE("200 umol m-2 s-1 for ten hours are 7.2 mol m-2") {
    CHECK(dli_mol_m2_d(square_day(10.0), std::array{200.0}) == Approx(7.2).epsilon(1e-12));
}

TEST_CASE("250 umol m-2 s-1 for twelve hours are 10.8 mol m-2") {
    // The light of a fed Pocillopora acuta trial (Huang et al. 2020: 250 and 105 umol, 12 h).
    CHECK(dli_mol_m2_d(square_day(12.0), std::array{250.0}) == Approx(10.8).epsilon(1e-12));
    CHECK(dli_mol_m2_d(square_day(12.0), std::array{105.0}) == Approx(4.536).epsilon(1e-12));
}
