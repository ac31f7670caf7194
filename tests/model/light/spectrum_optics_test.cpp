// Lamp spectra: fractions, means, and spectra from layout entries.
#include <catch2/catch.hpp>
#include <cmath>
#include <numeric>

#include "model/light/spectrum.h"

using namespace bedshade;

namespace {

double total(const Spectrum& s) { return std::accumulate(s.share.begin(), s.share.end(), 0.0); }

double mean_nm(const Spectrum& s) {
    ByBand nm{};
    for (int b = 0; b < kBands; ++b) nm[static_cast<std::size_t>(b)] = band_nm(b);
    return mean_over(s, nm);
}

double below_500(const Spectrum& s) {
    return std::accumulate(s.share.begin(), s.share.begin() + 20, 0.5 * s.share[20]);
}

}  // namespace

TEST_CASE("fractions of every spectrum sum to one") {
    CHECK(total(flat_spectrum()) == Approx(1.0).epsilon(1e-14));
    for (const double peak : {300.0, 395.0, 450.0, 520.0, 700.0, 900.0})
        CHECK(total(narrow_spectrum(peak, usual_width_nm(peak))) == Approx(1.0).epsilon(1e-14));
    for (const double kelvin : {1000.0, 3000.0, 6500.0, 20000.0, 1e6})
        CHECK(total(white_spectrum(kelvin)) == Approx(1.0).epsilon(1e-14));
}

TEST_CASE("a diode has the given peak and width") {
    const Spectrum blue = narrow_spectrum(450, 20);
    // The photon spectrum is slightly redder than the power spectrum: by the variance over the
    // peak, 0.3 nm.
    CHECK(mean_nm(blue) == Approx(450.3).epsilon(0).margin(0.1));
    // Half of the peak is 10 nm away: two grid steps. Binning widens it slightly.
    CHECK(blue.share[12] == Approx(0.5 * blue.share[10]).epsilon(0.08));
    CHECK(blue.share[8] == Approx(0.5 * blue.share[10]).epsilon(0.08));
}

TEST_CASE("typical widths interpolate their table") {
    CHECK(usual_width_nm(405) == 15.0);
    CHECK(usual_width_nm(450) == Approx(20));
    CHECK(usual_width_nm(460) == Approx(22.5));
    CHECK(usual_width_nm(520) == Approx(35));
    CHECK(usual_width_nm(590) == Approx(27.5));
    CHECK(usual_width_nm(690) == 20.0);
}

TEST_CASE("whites become bluer with colour temperature") {
    double last = below_500(white_spectrum(3200));
    for (const double kelvin : {4000.0, 5000.0, 6500.0, 10000.0, 14000.0, 20000.0}) {
        const double now = below_500(white_spectrum(kelvin));
        CHECK(now > last + 0.01);
        last = now;
    }
    // Fraction below 500 nm of the photons of a 6500 K black body in 400-700 nm, by Planck's law.
    CHECK(below_500(white_spectrum(6500)) == Approx(0.314).epsilon(0).margin(1e-3));
    CHECK(below_500(white_spectrum(2000)) == below_500(white_spectrum(2500)));
}

TEST_CASE("a lamp's parts are mixed by their photon shares") {
    Lamp lamp;
    lamp.spectrum = {{450, 0, 0.6}, {0, 14000, 0.2}, {660, 0, 0.2}};
    const Spectrum mix = spectrum_of(lamp);
    CHECK(total(mix) == Approx(1.0).epsilon(1e-14));
    const Spectrum blue = narrow_spectrum(450, 20), white = white_spectrum(14000),
                   red = narrow_spectrum(660, 20);
    CHECK(mean_nm(mix) ==
          Approx(0.6 * mean_nm(blue) + 0.2 * mean_nm(white) + 0.2 * mean_nm(red)).epsilon(1e-12));
    for (SpectrumPart& part : lamp.spectrum) part.share *= 50;
    CHECK(mean_nm(spectrum_of(lamp)) == Approx(mean_nm(mix)).epsilon(1e-12));
}

TEST_CASE("a lamp without a spectrum has a flat photon spectrum") {
    CHECK(spectrum_of(Lamp{}).share == flat_spectrum().share);
    CHECK(mean_nm(flat_spectrum()) == Approx(550).epsilon(1e-12));
}

TEST_CASE("binning a table conserves its photons and its mean, coarse or fine") {
    Lamp lamp;
    lamp.spectrum = {{660, 0, 1.0}};
    // A triangle about 523 nm, off the grid.
    lamp.spectrum_table = SpectrumTable{{513, 523, 533}, {0, 8, 0}};
    const Spectrum triangle = spectrum_of(lamp);
    CHECK(total(triangle) == Approx(1.0).epsilon(1e-14));
    CHECK(mean_nm(triangle) == Approx(523).epsilon(1e-10));
    // Two wide points with equal photons; the half of a table outside 400-700 nm does not count.
    CHECK(mean_nm(tabulated_spectrum({{400, 700}, {3, 3}})) == Approx(550).epsilon(1e-12));
    CHECK(mean_nm(tabulated_spectrum({{300, 400, 500}, {5, 5, 5}})) == Approx(450).epsilon(1e-3));
    CHECK(tabulated_spectrum({{800, 900}, {1, 1}}).share == flat_spectrum().share);
    CHECK(tabulated_spectrum({{}, {}}).share == flat_spectrum().share);
}
