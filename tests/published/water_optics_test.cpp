// What water takes out of light, against measured tables.
#include "model/light/water_optics.h"

#include <catch2/catch.hpp>
#include <cmath>
#include <utility>
#include <vector>

using namespace bedshade;

namespace {

/// Linear between the rows of Jerlov's table, which steps by 25 nm from 400.
double jerlov_at(const std::vector<double>& table, double nm) {
    const double place = (nm - 400) / 25;
    const auto i = std::min(static_cast<std::size_t>(place), table.size() - 2);
    return table[i] + (place - static_cast<double>(i)) * (table[i + 1] - table[i]);
}

// Jerlov 1976, Marine Optics, Table XXVII: downward attenuation of ocean water type I and of
// coastal type 9C, 400 to 700 nm by 25 nm, 1/m.
const std::vector<double> kJerlovI = {.028, .022, .019, .018, .027, .043, .063,
                                      .089, .235, .305, .36,  .42,  .56};
const std::vector<double> kJerlovII = {.096, .081, .068, .062, .07,  .076, .089,
                                       .115, .26,  .335, .40,  .465, .61};
const std::vector<double> kJerlov9C = {2.4, 1.9, 1.6, 1.23, .99, .78, .63,
                                       .58, .60, .65, .76,  .92, 1.1};

/// Attenuation of even photons over a depth in water of this table.
double mean_attenuation(const std::vector<double>& table, double depth_m) {
    ByBand per_m{};
    for (int b = 0; b < kBands; ++b)
        per_m[static_cast<std::size_t>(b)] = jerlov_at(table, band_nm(b));
    const Attenuation water(flat_spectrum(), per_m, 12.0);
    return -std::log(water.transmittance(depth_m)) / depth_m;
}

}  // namespace

TEST_CASE("pure water absorbs as Pope and Fry measured", "[published]") {
    // Pope & Fry 1997, Table 3.
    CHECK(pure_water_absorption_per_m(440) == .00635);
    CHECK(pure_water_absorption_per_m(550) == Approx(.0565).epsilon(1e-14));
    CHECK(pure_water_absorption_per_m(660) == Approx(.410).epsilon(1e-14));
    CHECK(pure_water_absorption_per_m(700) == Approx(.624).epsilon(1e-14));
    // Their abstract: least at 418 nm, 0.0044 +- 0.0006.
    CHECK(pure_water_absorption_per_m(418) == Approx(.0044).epsilon(0).margin(.0006));
    for (int b = 0; b < kBands; ++b)
        CHECK(pure_water_absorption_per_m(band_nm(b)) >= pure_water_absorption_per_m(415));
    CHECK(std::exp(-0.5 * pure_water_absorption_per_m(660)) ==
          Approx(.814647).epsilon(0).margin(1e-6));
}

TEST_CASE("even photons through half a metre of pure water", "[published]") {
    // Pope & Fry 1997 summed by 1 nm: 0.930881.
    double left = 0.0;
    for (int nm = 400; nm <= 700; ++nm)
        left += (nm == 400 || nm == 700 ? 0.5 : 1.0) *
                std::exp(-0.5 * pure_water_absorption_per_m(nm)) / 300;
    CHECK(left == Approx(.930881).epsilon(0).margin(1e-5));
    ByBand per_m{};
    for (int b = 0; b < kBands; ++b)
        per_m[static_cast<std::size_t>(b)] = pure_water_absorption_per_m(band_nm(b));
    // The grid of 5 nm comes within 1e-4 of the sum by 1 nm.
    CHECK(Attenuation(flat_spectrum(), per_m).transmittance(0.5) ==
          Approx(.930881).epsilon(0).margin(1e-4));
}

TEST_CASE("seawater scatters as Smith and Baker tabulate", "[published]") {
    CHECK(sea_scattering_per_m(450) == Approx(.00456).epsilon(0).margin(1e-9));
    CHECK(sea_scattering_per_m(600) == Approx(.00133).epsilon(0).margin(1e-9));
    // Morel's law with salt, 0.00288 (nm / 500)^-4.32, is another account of the same thing.
    for (const double nm : {400.0, 450.0, 500.0, 550.0, 650.0})
        CHECK(sea_scattering_per_m(nm) ==
              Approx(0.00288 * std::pow(nm / 500, -4.32)).epsilon(0.03));
}

TEST_CASE("temperature and salt shift absorption by their coefficients", "[published]") {
    // IOCCG 2018 table: at 450 nm 0.2e-4 per degree and 0.17e-4 per g/kg; at 605 nm 10.3e-4,
    // 0.43e-4.
    CHECK(absorption_shift_per_m(450, 25, 35) == Approx(3 * 0.2e-4 + 35 * 0.17e-4).epsilon(1e-12));
    CHECK(absorption_shift_per_m(605, 27, 0) == Approx(5 * 10.3e-4).epsilon(1e-12));
    CHECK(absorption_shift_per_m(520, 22, 0) == Approx(0.0).epsilon(0).margin(1e-15));
}

TEST_CASE("dissolved colour fades exponentially toward the red", "[published]") {
    // Bricaud, Morel & Prieur 1981: with a slope of 0.014 a(400)/a(440) = exp(0.56).
    CHECK(dissolved_colour_per_m(0.3, 400, 0.014) / 0.3 ==
          Approx(1.750673).epsilon(0).margin(1e-6));
    CHECK(dissolved_colour_per_m(0.3, 440) == Approx(0.3).epsilon(1e-14));
    // Over half a metre, colour alone, a(440) = 0.5: computed from the law.
    const std::pair<double, double> left[] = {
        {420, .7184}, {450, .8047}, {470, .8485}, {520, .9217}, {660, .9886}};
    for (const auto& [nm, expected] : left)
        CHECK(std::exp(-0.5 * dissolved_colour_per_m(0.5, nm, 0.014)) ==
              Approx(expected).epsilon(0).margin(6e-5));
}

TEST_CASE("fine grains take more light than coarse ones", "[published]") {
    // 3 Q / (2 density d) with Q = 2 and 2700 kg/m3 [m2/kg].
    CHECK(beam_attenuation_m2_kg(5e-6) == Approx(222).epsilon(0).margin(0.5));
    CHECK(beam_attenuation_m2_kg(63e-6) == Approx(17.6).epsilon(0).margin(0.05));
    // 0.012 m2 of backscatter a gram of mineral particles (Neukermans et al. 2012; spread a factor
    // 3) with some absorption: 10 um grains lie within that spread.
    const double per_g = particle_loss_per_m(1e-3, 10e-6);
    CHECK(per_g > 0.004);
    CHECK(per_g < 0.036);
}

TEST_CASE("no natural water is clearer than pure water", "[published]") {
    Water water;
    water.yellowing_per_m = 0.0;
    const ByBand pure = attenuation_by_band_per_m(water);
    // At Jerlov's own wavelengths. Pope & Fry's later figures are 1.4 % above his at 525 nm and
    // well above them beyond 665 nm.
    for (int b = 0; band_nm(b) <= 650; b += 5) {
        CAPTURE(band_nm(b));
        CHECK(pure[static_cast<std::size_t>(b)] < 1.02 * jerlov_at(kJerlovI, band_nm(b)));
    }
}

TEST_CASE("even photons fade in Jerlov's waters as his tables imply", "[published]") {
    // Sums over Jerlov's Table XXVII, linear in wavelength.
    CHECK(mean_attenuation(kJerlovI, 0.5) == Approx(.1514).epsilon(0).margin(2e-4));
    CHECK(mean_attenuation(kJerlovI, 10.0) == Approx(.0810).epsilon(0).margin(2e-4));
    CHECK(mean_attenuation(kJerlovII, 0.5) == Approx(.1915).epsilon(0).margin(2e-4));
    CHECK(mean_attenuation(kJerlovII, 10.0) == Approx(.1240).epsilon(0).margin(2e-4));
    CHECK(mean_attenuation(kJerlov9C, 0.5) == Approx(.9798).epsilon(0).margin(4e-4));
}
