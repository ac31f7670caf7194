// Lumens of photometric files by zones, against closed forms and the handbook's zonal constants.
#include <array>
#include <catch2/catch.hpp>
#include <cmath>
#include <fmt/format.h>

#include "model/light/photometric_beam.h"

#include "sim/input/photometry/photometry_reader.h"

#include "tests/webs.h"

using namespace bedshade;
using namespace bedshade::test;

namespace {

Photometry photometry_of(const std::string& numbers) {
    Diagnostics diagnostics;
    auto read =
        read_photometry("IESNA:LM-63-2002\nTILT=NONE\n" + numbers, "written here", diagnostics);
    diagnostics.throw_if_any();
    REQUIRE(read);
    return std::move(*read);
}

}  // namespace

TEST_CASE("zones of 10 degrees have the handbook's zonal constants") {
    // IES Lighting Handbook, table of zonal constants (from memory; each is
    // 2 pi (cos v1 - cos v2)): flux of one candela all round.
    constexpr std::array kConstants = {.0955, .2835, .4629,  .6282, .7744,
                                       .8972, .9926, 1.0579, 1.0911};
    const auto even = photometry_of("1 -1 1 3 1 1 2 0 0 0 1 1 10  0 90 180  0  1 1 1");
    for (std::size_t z = 0; z < kConstants.size(); ++z) {
        const double low = static_cast<double>(z) * kPi / 18.0;
        CHECK(flux_between(*even.web, low, low + kPi / 18.0) ==
              Approx(kConstants[z]).epsilon(0).margin(5.1e-5));
    }
    CHECK(flux_of(*even.web) == Approx(4.0 * kPi).epsilon(1e-12));
}

TEST_CASE("a file's intensities sum to the lumens it states") {
    // Bare lamps, so that luminaire and lamps give the same: 100 cd all round is 400 pi lm; a flat
    // glowing disc of 1000 cd is 1000 pi lm (Lambert), at 5 degree steps 6.4e-4 less, since
    // straight pieces cut a cosine's corners.
    const auto even = photometry_of("2 628.3185 1 2 1 1 2 -.1 -.1 -.1 1 1 10  0 180  0  100 100");
    CHECK(flux_of(*even.web) == Approx(even.rated_lumens).epsilon(1e-6));
    std::string flat = "1 3141.593 1 19 1 1 2 -.1 -.1 0 1 1 10 ", candela;
    for (int i = 0; i < 19; ++i) {
        flat += fmt::format(" {}", 5 * i);
        candela += fmt::format(" {:.4f}", 1000.0 * std::cos(5 * i * kPi / 180.0));
    }
    const auto disc = photometry_of(flat + " 0" + candela);
    CHECK(flux_of(*disc.web) / disc.rated_lumens - 1.0 == Approx(-6.4e-4).epsilon(0.02));
}

TEST_CASE("the worked file has the intensity and the lumens worked out for it") {
    // Multiplier 2, ballast factor 0.9. Worked out apart from this program: half way between 866
    // and 500, times 1.8; straight pieces in the angle, summed exactly.
    const auto read =
        photometry_of("1 6000 2 4 1 1 2 0 0 0 .9 1 100  0 30 60 90  0  1000 866 500 0");
    CHECK(flux_of(*read.web) == Approx(5521.957).epsilon(1e-6));
    const Vec3 at_45(std::sqrt(0.5), 0.0, -std::sqrt(0.5));
    CHECK(flux_of(*read.web) * PhotometricBeam(read.web, LampFrame{}).per_sr(at_45) ==
          Approx(1229.4).epsilon(1e-9));
}

TEST_CASE("narrow beams at 5 degree steps sum to what straight pieces must give") {
    // I = 1000 cos^m sums to 2 pi 1000 / (m + 1); the excess of straight pieces was worked out
    // apart from this program. A cosine alone would hide a sum by the zones' mean intensities.
    struct Row {
        double m, excess;
    };
    for (const Row& row :
         {Row{1.0, -6.4e-4}, Row{4.8188, 3.1e-3}, Row{10.0, 6.3e-3}, Row{20.0, 1.3e-2}}) {
        CAPTURE(row.m);
        const double exact = 2000.0 * kPi / (row.m + 1.0);
        CHECK(flux_of(*cosine_web(row.m, 5.0)) / exact - 1.0 ==
              Approx(row.excess).epsilon(0.04).margin(1e-4));
    }
}
