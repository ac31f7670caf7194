// Monte Carlo photon transport with diffuse surfaces and canopies, the photon balance, and
// independence of threads.
#include <catch2/catch.hpp>
#include <cmath>

#include "model/light/rock_mesh.h"
#include "model/reef/reflectance.h"

#include "sim/input/layout/layout_reader.h"
#include "sim/run/reef_light.h"

#include "tests/model/monte_carlo/transport_checks.h"

using namespace bedshade;
using namespace bedshade::test;

namespace {

monte_carlo::Body box_body(const Vec3& min_m, const Vec3& max_m) {
    Rock rock;
    rock.shape = RockBox{min_m, max_m};
    return {rock_mesh(rock), monte_carlo::Material::coral, 0.0, 0.0};
}

Layout demo_layout() {
    return read_layout(BEDSHADE_SOURCE_DIR "/scenarios/ledge_over_bed.toml").layout;
}

}  // namespace

TEST_CASE("in a box without losses light is the same everywhere", "[reference]") {
    // A uniformly emitting opening (a cosine lamp of the same size) over perfectly reflecting
    // surfaces reaches equilibrium with the inside: radiance n^2 times that of the opening on every
    // surface of any shape (Kirchhoff; detailed balance). Exact: n^2 flux / area. It fails if
    // scattering is not Lambertian, if reflection or refraction at the surface are not reciprocal,
    // or if the canopy scatters anisotropically.
    Layout layout = black_tank();
    Tank& tank = layout.tank;
    tank.length_m = 0.6;
    tank.width_m = 0.4;
    tank.water_depth_m = 0.3;
    tank.rim_m = 0.05;
    for (Wall& wall : tank.walls) wall = {WallKind::diffuse, 1.0};
    layout.substrate.reflectance = 1.0;
    layout.water.refractive_index = 1.34;
    Lamp lamp = lamp_at(Vec3(0.3, 0.2, 0.35), LampShape::rectangle, 0.0, 24.0);
    lamp.size_m = Vec2(0.6, 0.4);
    layout.lamps = {lamp};
    Scene scene = scene_without_reef(layout);
    scene.bodies.push_back(box_body(Vec3(0.2, 0.2, 0.0), Vec3(0.3, 0.3, 0.12)));
    scene.bodies.back().reflectance = 1.0;
    scene.bodies.push_back(box_body(Vec3(0.35, 0.05, 0.02), Vec3(0.55, 0.35, 0.2)));
    scene.bodies.back().reflectance = 1.0;
    scene.bodies.back().extinction_per_m = 25.0;
    const BedGrid bed{6, 4, 0.1, 0.1};
    const Tally tally = run_transport(scene, bed, 500'000, {{Vec3(0.1, 0.1, 0.15), 0.05}});
    CHECK(tally.ended(End::above) == tally.sent());
    const double expected = 1.34 * 1.34 * 24.0 / (0.6 * 0.4);
    DeviationStatistics deviations;
    for (int j = 0; j < bed.ny; ++j)
        for (int i = 0; i < bed.nx; ++i)
            if (i != 2 || j != 2) deviations.add(tally.light_at(bed.index(i, j)), expected);
    deviations.add(tally.light_at(bed.size()), expected);
    CHECK(tally.light_at(bed.index(2, 2)).ppfd_umol_m2_s == 0.0);  // under the box
    CHECK(deviations.mean_square() > 0.4);
    CHECK(deviations.mean_square() < 2.0);
}

TEST_CASE("sand reflects a spot of light with its view factor", "[reference]") {
    // Howell: the view factor from an element below the centre of a 1 x 1 rectangle at half its
    // side is 0.55412642 (four times the corner value 0.13853161). Black walls absorb the rest.
    Layout layout = black_tank();
    layout.tank.length_m = layout.tank.width_m = 1.0;
    layout.substrate.reflectance = 0.4;
    layout.lamps = {pencil_at(Vec3(0.5, 0.5, 0.6), 0.0, 0.0)};
    const Tally tally = run_transport(scene_without_reef(layout), one_cell(layout.tank), 400'000);
    check_share(tally.ended(End::sand), tally.sent(), 0.6);
    check_share(tally.ended(End::above), tally.sent(), 0.4 * 0.55412642);
}

TEST_CASE("overgrown glass reflects a ninth of incident light", "[reference]") {
    // With every other wall a kilometre away, light scattered by the back reaches sand or surface:
    // less than 0.5 m / 1 km of it reaches the others, far below the standard error.
    Layout layout = black_tank();
    layout.tank.length_m = layout.tank.width_m = 2000.0;
    layout.tank.wall(Side::back).kind = WallKind::coralline;
    layout.lamps = {pencil_at(Vec3(1000.0, 1999.7, 0.55), kPi / 4.0, kPi / 2.0)};
    const Tally tally = run_transport(scene_without_reef(layout), one_cell(layout.tank), 400'000);
    check_share(tally.ended(End::sand) + tally.ended(End::above), tally.sent(),
                kCorallineReflectance);
}

TEST_CASE("a coral absorbs all but its tissue reflectance", "[reference]") {
    Layout layout = black_tank();
    layout.taxa = {plain_coral(Form::tabular, 100.0)};
    layout.colonies = {colony_at("table", 0, Vec3(1.0, 1.0, 0.2), 0.3, 0.05)};
    layout.lamps = {pencil_at(Vec3(1.03, 1.0, 0.6), 0.0, 0.0)};
    const Scene scene = monte_carlo::scene_of(layout, baseline_reef(layout));
    const Tally tally = run_transport(scene, one_cell(layout.tank), 400'000);
    check_share(tally.ended(End::corals), tally.sent(), 1.0 - kTissueReflectance);
}

TEST_CASE("a branching taxon is a canopy with extinction of half its area per volume",
          "[reference]") {
    Layout layout = black_tank();
    layout.taxa = {plain_coral(Form::branching, 100.0)};
    layout.taxa.front().canopy_m2_per_m3 = 40.0;
    layout.colonies = {colony_at("bush", 0, Vec3(1.0, 1.0, 0.2), 0.3, 0.1)};
    const Scene scene = monte_carlo::scene_of(layout, baseline_reef(layout));
    REQUIRE(scene.bodies.size() == 1);
    CHECK(scene.bodies.front().extinction_per_m == Approx(20.0));  // Monsi & Saeki 1953, G = 0.5
    CHECK(scene.bodies.front().reflectance == kTissueReflectance);
}

TEST_CASE("canopies transmit exp(-k chord), and overlapping ones the product", "[reference]") {
    // Beer's law along a slanting chord: a slab of thickness t is crossed over t / cos.
    Layout layout = black_tank();
    const double tilt = 30.0 * kPi / 180.0;
    layout.lamps = {pencil_at(Vec3(0.8, 1.0, 0.6), tilt, 0.0)};
    Scene scene = scene_without_reef(layout);
    scene.bodies.push_back(box_body(Vec3(0.1, 0.1, 0.1), Vec3(1.9, 1.9, 0.2)));
    scene.bodies.back().extinction_per_m = 6.0;
    double thickness = 6.0 * 0.1 / std::cos(tilt);
    SECTION("one") {}
    SECTION("two that overlap") {
        scene.bodies.push_back(box_body(Vec3(0.2, 0.2, 0.15), Vec3(1.8, 1.8, 0.3)));
        scene.bodies.back().extinction_per_m = 3.0;
        thickness += 3.0 * 0.15 / std::cos(tilt);
    }
    SECTION("one cut by the sand") {
        scene.bodies.push_back(box_body(Vec3(0.2, 0.2, -0.1), Vec3(1.8, 1.8, 0.05)));
        scene.bodies.back().extinction_per_m = 3.0;
        thickness += 3.0 * 0.05 / std::cos(tilt);
    }
    const Tally tally = run_transport(scene, one_cell(layout.tank), 400'000);
    check_share(tally.ended(End::sand), tally.sent(), std::exp(-thickness));
    CHECK(tally.ended(End::sand) + tally.ended(End::corals) == tally.sent());
}

TEST_CASE("every photon of the demonstration layout is accounted for", "[reference]") {
    Layout layout = demo_layout();
    layout.tank.cover_transmittance = 0.9;
    const BedGrid bed = bed_grid_of(layout.tank);
    const Tally tally =
        run_transport(monte_carlo::scene_of(layout, baseline_reef(layout)), bed, 300'000);
    std::uint64_t ended = 0;
    double ended_umol_s = 0.0, lamps_umol_s = 0.0;
    for (const End end : monte_carlo::kEnds) {
        CAPTURE(to_string(end));
        ended += tally.ended(end);
        ended_umol_s += tally.ended_umol_s(end);
        CHECK((tally.ended(end) > 0) == (end != End::followed));
    }
    for (const Lamp& lamp : layout.lamps) lamps_umol_s += lamp.photon_flux_umol_s * lamp.output;
    CHECK(ended == tally.sent());
    CHECK(tally.sent() >= 300'000);
    CHECK(ended_umol_s == Approx(lamps_umol_s).epsilon(1e-9));
    check_share(tally.ended(End::cover), tally.sent() - tally.ended(End::missed), 0.1);

    // Of what reaches the sand all but its reflectance is absorbed.
    double reached_umol_s = 0.0;
    for (std::size_t cell = 0; cell < bed.size(); ++cell)
        reached_umol_s += tally.light_at(cell).ppfd_umol_m2_s * bed.cell_area_m2();
    const double photon_umol_s = tally.sent_umol_s() / static_cast<double>(tally.sent());
    check_share(tally.ended(End::sand),
                static_cast<std::uint64_t>(std::llround(reached_umol_s / photon_umol_s)),
                1.0 - layout.substrate.reflectance);
}

TEST_CASE("the tally depends on the seed but not on threads", "[reference][threads]") {
    const Layout layout = demo_layout();
    const BedGrid bed = bed_grid_of(layout.tank);
    const Scene scene = monte_carlo::scene_of(layout, baseline_reef(layout));
    const Tally one = run_transport(scene, bed, 100'000, {}, 1);
    const Tally two = run_transport(scene, bed, 100'000, {}, 2);
    for (std::size_t cell = 0; cell < bed.size(); ++cell) {
        REQUIRE(one.light_at(cell).ppfd_umol_m2_s == two.light_at(cell).ppfd_umol_m2_s);
        REQUIRE(one.light_at(cell).stderr_umol_m2_s == two.light_at(cell).stderr_umol_m2_s);
    }
    for (const End end : monte_carlo::kEnds) CHECK(one.ended(end) == two.ended(end));

    const monte_carlo::PhotonTransport tracer(scene, bed, {});
    const auto other = tracer.run({100'000, 8, 1.0});
    REQUIRE(other);
    CHECK(other->ended(End::sand) != one.ended(End::sand));
    CHECK_FALSE(tracer.run({100'000, 8, 1.0}, run_serially, [](double) { return false; }));
}
