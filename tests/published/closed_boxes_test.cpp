// Boxes whose light is known without working it out.
#include <catch2/catch.hpp>
#include <cmath>

#include "model/light/fresnel.h"
#include "model/light/light_field.h"
#include "model/light/radiosity.h"

#include "tests/layouts.h"

using namespace bedshade;
using namespace bedshade::test;

namespace {

constexpr double kBeamExponent = 30.0;

/// A glass tank under a lamp that covers its opening, 1 mm above the water, and shines no farther
/// than 63 degrees from straight down: in water within 41.7 degrees, where every pane returns all.
Layout mirror_box() {
    Layout layout = black_tank();
    layout.tank.length_m = layout.tank.width_m = 0.5;
    layout.tank.water_depth_m = 0.6;
    for (Wall& wall : layout.tank.walls) wall.kind = WallKind::glass;
    layout.water.refractive_index = 1.34;
    layout.lamps = {lamp_at(Vec3(0.25, 0.25, 0.601), LampShape::rectangle, 0.5, 100.0)};
    layout.lamps.front().beam_exponent = kBeamExponent;
    return layout;
}

/// What the surface lets through of a cos^m beam, the mean over its directions (midpoints).
double let_in(double exponent, double water_index) {
    double sum = 0.0, all = 0.0;
    constexpr int kParts = 2000;
    for (int k = 0; k < kParts; ++k) {
        const double angle = (k + 0.5) / kParts * 0.5 * kPi;
        const double weight = std::pow(std::cos(angle), exponent) * std::sin(angle);
        sum += weight * (1.0 - air_to_water_reflectance(std::cos(angle), water_index));
        all += weight;
    }
    return sum / all;
}

}  // namespace

TEST_CASE("a box of mirrors under a sheet of light is lit as under an endless sheet") {
    // Mirrored in all four walls the lamp has no edge: the light is the same everywhere on the
    // floor, and all that comes in lands there.
    const Layout layout = mirror_box();
    const BedGrid bed{10, 10, 0.05, 0.05};
    LightField field(layout, bed, 256);
    field.update(run_serially);
    const double expected = 100.0 / 0.25 * let_in(kBeamExponent, 1.34);
    double mean = 0.0;
    for (const double light : field.bed(lamps_on(layout, 0.0, 1.0), run_serially)) {
        CHECK(light == Approx(expected).epsilon(0.03));
        mean += light / static_cast<double>(bed.size());
    }
    CHECK(mean == Approx(expected).epsilon(0.005));
}

TEST_CASE("a closed box that is lit evenly holds 1 / (1 - albedo) of that light") {
    // As in an integrating sphere (multiplier after Goebel 1967, Appl. Opt. 6:125, from memory):
    // with one albedo all round, every spot gets the direct light and albedo times the whole again,
    // whatever the box looks like. Floor of sand, painted walls, a slab of rock for a lid.
    const double albedo = GENERATE(0.2, 0.5, 0.8);
    Layout layout = black_tank();
    layout.tank.length_m = 0.6;
    layout.tank.width_m = 0.4;
    for (Wall& wall : layout.tank.walls) wall = {WallKind::diffuse, albedo};
    layout.substrate.reflectance = albedo;
    layout.water.refractive_index = 1.34;
    Rock lid;
    lid.shape = RockBox{Vec3(-0.1, -0.1, 0.495), Vec3(0.7, 0.5, 0.6)};
    lid.reflectance = albedo;
    layout.rocks = {lid};
    layout.lamps = {lamp_at(Vec3(0.3, 0.2, 0.7), LampShape::point, 0.0, 100.0)};
    const BedGrid grid{12, 8, 0.05, 0.05};
    Radiosity diffuse(layout, grid);
    diffuse.trace(run_serially);
    LightState state;
    const std::vector<double> bed(grid.size(), 100.0), solids(diffuse.solids().size(), 100.0);
    diffuse.solve({bed, solids, {}}, lamps_on(layout, 0.0, 1.0), state, run_serially);
    for (const double light : state.bed_light)
        CHECK(100.0 + light == Approx(100.0 / (1.0 - albedo)).epsilon(0.01));
}
