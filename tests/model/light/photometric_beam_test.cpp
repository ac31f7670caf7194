// Measured beams integrate to the lamp's flux and rotate with the lamp.
#include "model/light/photometric_beam.h"

#include <catch2/catch.hpp>
#include <cmath>

#include "model/light/light_field.h"

#include "tests/layouts.h"
#include "tests/webs.h"

using namespace bedshade;
using namespace bedshade::test;

namespace {

/// Integral of a beam over the sphere, by the midpoint rule on an independent grid.
double sum_over_sphere(const PhotometricBeam& beam) {
    const int count = 600;
    double sum = 0.0;
    for (int i = 0; i < count; ++i) {
        const double z = -1.0 + 2.0 * (i + 0.5) / count, s = std::sqrt(1.0 - z * z);
        for (int j = 0; j < count; ++j) {
            const double a = 2.0 * kPi * (j + 0.5) / count;
            sum += beam.per_sr({s * std::cos(a), s * std::sin(a), z});
        }
    }
    return sum * 4.0 * kPi / (count * count);
}

Lamp tilted_lamp() {
    Lamp lamp = lamp_at(Vec3(1.0, 1.0, 0.7), LampShape::point, 0.0, 100.0);
    lamp.tilt_rad = 0.5;
    lamp.azimuth_rad = 2.0;
    return lamp;
}

std::vector<double> bed_light(const Layout& layout) {
    LightField field(layout, BedGrid{16, 16, 0.125, 0.125});
    field.update(run_serially);
    return field.bed(lamps_on(layout, 0.0, 1.0), run_serially);
}

}  // namespace

TEST_CASE("a measured beam integrates to one over all directions") {
    const LampFrame slanted{Vec3(0.6, 0.0, -0.8), Vec3(0.8, 0.0, 0.6), Vec3::UnitY()};
    CHECK(sum_over_sphere({uneven_web(), slanted}) == Approx(1.0).epsilon(1e-4));
    CHECK(sum_over_sphere({floodlight_web(), slanted}) == Approx(1.0).epsilon(1e-3));
    CHECK(sum_over_sphere({cosine_web(10.0, 5.0), slanted}) == Approx(1.0).epsilon(1e-4));
}

TEST_CASE("the flux of a web is the sum of its zones") {
    const auto web = uneven_web();
    const double low = flux_between(*web, 0.0, 1.234), high = flux_between(*web, 1.234, kPi);
    CHECK(low + high == Approx(flux_of(*web)).epsilon(1e-12));
    CHECK(backward_fraction(*web) == Approx(flux_between(*web, 0.5 * kPi, kPi) / flux_of(*web)));
    CHECK(backward_fraction(*web) > 0.1);
    CHECK(backward_fraction(*floodlight_web()) == 0.0);
}

TEST_CASE("a web rotates with its lamp: plane zero lies in the direction of tilt") {
    Lamp lamp = tilted_lamp();
    lamp.web = uneven_web();
    const Emitter emitter = emitter_of(lamp);
    const double per_candela = 100.0 / flux_of(*lamp.web);
    const auto candela = [&](double tilt, double azimuth) {
        const Vec3 direction(std::sin(tilt) * std::cos(azimuth), std::sin(tilt) * std::sin(azimuth),
                             -std::cos(tilt));
        return intensity_umol_s_sr(emitter, 100.0, direction) / per_candela;
    };
    // Tilted by 0.5 rad toward azimuth 2, the beam axis points there; 45 degrees further lies the
    // web's C0, and 45 degrees back its C180.
    CHECK(candela(0.5, 2.0) == Approx(web_candela(0.0, 0.0)));
    CHECK(candela(0.5 + 0.25 * kPi, 2.0) == Approx(web_candela(45.0, 0.0)));
    CHECK(candela(0.25 * kPi - 0.5, 2.0 + kPi) == Approx(web_candela(45.0, 180.0)));
    // C90 lies counter-clockwise of C0 seen from above.
    const Vec3 width(-std::sin(2.0), std::cos(2.0), 0.0);
    CHECK(intensity_umol_s_sr(emitter, 100.0, width) / per_candela ==
          Approx(web_candela(90.0, 90.0)));
    CHECK(intensity_umol_s_sr(emitter, 100.0, -width) / per_candela ==
          Approx(web_candela(90.0, 270.0)));
}

TEST_CASE("light sent upward is lost to the bed") {
    Layout layout = black_tank();
    layout.lamps = {lamp_at(Vec3(1.0, 1.0, 0.7), LampShape::point, 0.0, 100.0)};
    layout.lamps[0].web = cosine_web(1.0, 2.5);
    const auto down = bed_light(layout);
    // The same beam with as much light again upward: half of the same flux is lost.
    auto both = std::make_shared<PhotometricWeb>(*layout.lamps[0].web);
    for (std::size_t p = both->polar_rad.size() - 1; p-- > 0;)
        both->polar_rad.push_back(kPi - both->polar_rad[p]);
    const PhotometricWeb half = *layout.lamps[0].web;
    both->intensity.clear();
    for (std::size_t t = 0; t < half.turn_rad.size(); ++t)
        for (std::size_t p = 0; p < both->polar_rad.size(); ++p)
            both->intensity.push_back(half.at(t, std::min(p, both->polar_rad.size() - 1 - p)));
    layout.lamps[0].web = both;
    const auto halved = bed_light(layout);
    for (std::size_t i = 0; i < down.size(); ++i)
        CHECK(halved[i] == Approx(0.5 * down[i]).epsilon(1e-9));
}

TEST_CASE("a web of a cosine lights the bed as beam_exponent 1 does") {
    // Lambert's law at steps of 2.5 degrees; linear interpolation differs from the cosine by 2.4e-4
    // of it.
    Layout layout = black_tank();
    layout.water.refractive_index = 1.34;
    layout.lamps = {tilted_lamp()};
    layout.lamps[0].shape = LampShape::rectangle;
    layout.lamps[0].size_m = Vec2(0.2, 0.1);
    for (Wall& wall : layout.tank.walls) wall.kind = GENERATE(WallKind::black, WallKind::glass);
    const auto power = bed_light(layout);
    layout.lamps[0].web = cosine_web(1.0, 2.5);
    const auto web = bed_light(layout);
    double most = 0.0;
    for (std::size_t i = 0; i < power.size(); ++i)
        most = std::max(most, std::abs(web[i] / power[i] - 1.0));
    CHECK(most < 5e-3);
    CHECK(most > 0.0);
}
