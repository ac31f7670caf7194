// The Beer-Lambert law, alone and along refracted paths.
#include <catch2/catch.hpp>
#include <cmath>

#include "model/light/emitter.h"
#include "model/light/surface.h"
#include "model/light/water_optics.h"

using namespace bedshade;

TEST_CASE("one flat attenuation is exp(-K l) exactly", "[published]") {
    for (const double k : {0.0, 0.05, 0.3, 2.0}) {
        Water water;
        water.attenuation_per_m = k;
        const Attenuation of_water(narrow_spectrum(450, 20), water);
        const Attenuation of_value(k);
        for (const double l : {0.0, 0.01, 0.5, 3.0, 20.0}) {
            CHECK(of_water.transmittance(l) == Approx(std::exp(-k * l)).epsilon(1e-12));
            CHECK(of_value.transmittance(l) == Approx(std::exp(-k * l)).epsilon(1e-12));
        }
    }
    CHECK(Attenuation().transmittance(5.0) == 1.0);
}

TEST_CASE("a Lambertian lamp through surface and water", "[published]") {
    // 100 umol/s, h = 0.2 m, d = 0.5 m, n = 1.34. Below the lamp 100/pi times 2.980027224; at
    // r = 0.3 m 65.910, and 65.585 where water takes 0.00922 1/m (Pope & Fry 1997 at 450 nm) over
    // a slant path of 0.5 m / cos(20.913 deg).
    const Emitter emitter = emitter_of(Lamp{});
    const Vec3 source(0.0, 0.0, 0.7);
    const auto ppfd = [&](double r, double k) {
        const Vec3 receptor(r, 0.0, 0.0);
        const SurfacePath path = surface_path(source, receptor, 0.5, 1.34);
        const Vec3 light = direction_to_light(source, receptor, 1.34, path);
        return intensity_umol_s_sr(emitter, 100.0, direction_in_air(source, receptor, path)) *
               facet_factor_per_m2(path, Vec3::UnitZ(), light) *
               Attenuation(k).transmittance(path.path_water_m);
    };
    CHECK(ppfd(0.0, 0.0) == Approx(100 / kPi * 2.980027224).epsilon(1e-9));
    CHECK(ppfd(0.3, 0.0) == Approx(65.910).epsilon(0).margin(6e-4));
    CHECK(ppfd(0.3, 0.00922) == Approx(65.585).epsilon(0).margin(6e-4));
}

TEST_CASE("a spectrum's light is the sum of its bands' light", "[published]") {
    // The look-up against the plain sum, in clear, yellow and turbid water, for blue, red and
    // white.
    const Spectrum spectra[] = {narrow_spectrum(420, 15), narrow_spectrum(660, 20),
                                white_spectrum(10000), flat_spectrum()};
    for (const double yellowing : {0.0, 0.3, 5.0, 20.0})
        for (const double turbidity : {0.0, 0.02})
            for (const Spectrum& spectrum : spectra) {
                Water water;
                water.yellowing_per_m = yellowing;
                water.turbidity_kg_m3 = turbidity;
                const ByBand per_m = attenuation_by_band_per_m(water);
                const Attenuation truncate(spectrum, water);
                double worst = 0.0;
                for (double l = 0.0; l < 12.0; l += l < 1.0 ? 0.00037 : 0.0137) {
                    double sum = 0.0;
                    for (std::size_t b = 0; b < per_m.size(); ++b)
                        sum += spectrum.share[b] * std::exp(-per_m[b] * l);
                    worst = std::max(worst, std::abs(truncate.transmittance(l) - sum));
                }
                CAPTURE(yellowing, turbidity);
                CHECK(worst < (yellowing > 10.0 ? 1e-7 : 1.1e-8));
                CHECK(truncate.transmittance(0.0) == Approx(1.0).epsilon(1e-14));
            }
}
