// Optics of the water: contributions to attenuation and the drift of yellowing.
#include "model/light/water_optics.h"

#include <catch2/catch.hpp>

using namespace bedshade;

TEST_CASE("yellowing rises every week and returns to its first value at each reset") {
    Water water;
    water.yellowing_per_m = 0.1;
    water.yellowing_drift_per_m_week = 0.03;
    CHECK(yellowing_on_per_m(water, 0) == Approx(0.1));
    CHECK(yellowing_on_per_m(water, 70) == Approx(0.4));
    CHECK(yellowing_on_per_m(water, -30) == Approx(0.1));
    water.drift_reset_weeks = 6;
    CHECK(yellowing_on_per_m(water, 35) == Approx(0.25));
    CHECK(yellowing_on_per_m(water, 42) == Approx(0.1));
    CHECK(yellowing_on_per_m(water, 49) == Approx(0.13));
    CHECK(water_on(water, 49).yellowing_per_m == Approx(0.13));
    // A negative drift lowers the yellowing, but not below zero.
    water.yellowing_drift_per_m_week = -1;
    CHECK(yellowing_on_per_m(water, 35) == 0.0);
}

TEST_CASE("yellowing attenuates blue most, turbidity all bands equally") {
    Water clear;
    clear.yellowing_per_m = 0.0;
    Water yellow = clear;
    yellow.yellowing_per_m = 0.5;
    Water turbid = clear;
    turbid.turbidity_kg_m3 = 0.01;
    const ByBand base = attenuation_by_band_per_m(clear);
    const ByBand more_yellow = attenuation_by_band_per_m(yellow);
    const ByBand more_turbid = attenuation_by_band_per_m(turbid);
    CHECK(more_yellow[8] - base[8] == Approx(0.5).epsilon(1e-12));  // 440 nm
    CHECK(more_yellow[4] - base[4] > 3 * (more_yellow[24] - base[24]));
    const double grey = particle_loss_per_m(0.01, turbid.turbidity_grain_m);
    CHECK(grey > 0.0);
    for (std::size_t b = 0; b < base.size(); ++b) {
        CHECK(more_turbid[b] - base[b] == Approx(grey).epsilon(1e-10));
        CHECK(base[b] > 0.0);
    }
}

TEST_CASE("a measured attenuation replaces all contributions") {
    Water water;
    water.yellowing_per_m = 3.0;
    water.turbidity_kg_m3 = 1.0;
    water.attenuation_per_m = 0.31;
    for (const double per_m : attenuation_by_band_per_m(water)) CHECK(per_m == 0.31);
    const Attenuation blue(narrow_spectrum(450, 20), water), red(narrow_spectrum(660, 20), water);
    CHECK(blue.transmittance(0.7) == red.transmittance(0.7));
}

TEST_CASE("red light is attenuated over a tank's depth, blue hardly") {
    Water water;
    water.yellowing_per_m = 0.02;
    const Attenuation blue(narrow_spectrum(450, 20), water), red(narrow_spectrum(660, 20), water);
    CHECK(blue.transmittance(0.5) > 0.97);
    CHECK(red.transmittance(0.5) < 0.83);
    CHECK(red.transmittance(0.5) > 0.78);
}

TEST_CASE("transmittance is continuous and valid beyond the end of the table") {
    Water water;
    const Attenuation lamp(flat_spectrum(), attenuation_by_band_per_m(water), 2.0);
    double last = 1.0 + 1e-12;
    for (double l = 0.0; l < 4.0; l += 0.003) {
        const double now = lamp.transmittance(l);
        if (!(now < last)) FAIL("rises at " << l);
        last = now;
    }
    CHECK(lamp.transmittance(2.0 - 1e-9) == Approx(lamp.transmittance(2.0 + 1e-9)).epsilon(1e-7));
}
