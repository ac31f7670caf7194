// Monte Carlo photon transport against closed forms: point and disc lamps, refraction, reflecting
// glass, absorption.
#include <catch2/catch.hpp>
#include <cmath>

#include "model/light/fresnel.h"
#include "model/light/refractive_index.h"
#include "model/light/surface.h"
#include "model/light/water_optics.h"

#include "tests/model/monte_carlo/transport_checks.h"
#include "tests/published/view_factors.h"

using namespace bedshade;
using namespace bedshade::test;

namespace {

/// Mean of a function of position over a bed cell, by the midpoint rule with `n` x `n` parts.
template <class Function>
double mean_over_cell(const BedGrid& bed, int i, int j, int n, Function at) {
    double sum = 0.0;
    for (int a = 0; a < n; ++a)
        for (int b = 0; b < n; ++b)
            sum += at((i + (a + 0.5) / n) * bed.cell_x_m, (j + (b + 0.5) / n) * bed.cell_y_m);
    return sum / (n * n);
}

/// Position of the mirror image of a bed point in cell `i`.
double image(double x, int i, double side) {
    return i % 2 == 0 ? i * side + x : (i + 1) * side - x;
}

}  // namespace

TEST_CASE("the Monte Carlo estimate of a point lamp follows cos^3 over height squared",
          "[reference]") {
    // Inverse-square and cosine laws; index 1, black walls, no absorption. Cosine lamp.
    Layout layout = black_tank();
    layout.lamps = {lamp_at(Vec3(0.9, 1.2, 0.6), LampShape::point, 0.0, 100.0)};
    const BedGrid bed{8, 8, 0.25, 0.25};
    const Tally tally = run_transport(scene_without_reef(layout), bed, 1'000'000);
    DeviationStatistics deviations;
    for (int j = 0; j < bed.ny; ++j)
        for (int i = 0; i < bed.nx; ++i)
            deviations.add(tally.light_at(bed.index(i, j)),
                           mean_over_cell(bed, i, j, 40, [](double x, double y) {
                               const double d2 = 0.36 + std::pow(x - 0.9, 2) + std::pow(y - 1.2, 2);
                               const double cosine = 0.6 / std::sqrt(d2);
                               const double intensity = 100.0 / kPi * cosine;
                               return intensity * std::pow(cosine, 3) / 0.36;
                           }));
    CHECK(deviations.mean_square() > 0.6);
    CHECK(deviations.mean_square() < 1.7);
}

TEST_CASE("the Monte Carlo estimate of a disc lamp equals its view factor", "[reference]") {
    // Howell, Catalog of Radiation Configuration Factors: element to a parallel disc.
    Layout layout = black_tank();
    layout.lamps = {lamp_at(Vec3(1.0, 1.0, 0.55), LampShape::disc, 0.4, 50.0)};
    const Tally tally = run_transport(scene_without_reef(layout), one_cell(layout.tank), 2'000'000,
                                      {{Vec3(1.0, 1.0, 0.2), 0.01}, {Vec3(1.25, 1.0, 0.2), 0.01}});
    const double emittance = 50.0 / (kPi * 0.2 * 0.2);
    DeviationStatistics deviations;
    deviations.add(tally.light_at(1), emittance * view_factors::element_to_disc(0.35, 0.0, 0.2));
    deviations.add(tally.light_at(2), emittance * view_factors::element_to_disc(0.35, 0.25, 0.2));
}

TEST_CASE("the Monte Carlo estimate through the surface equals independent ray tracing",
          "[reference]") {
    // Point source of unit intensity, surface loss, no absorption; each value found independently
    // three ways (closed form; pencils by vector Snell; 4.2 million rays in a small disc).
    struct Row {
        double h, d, r, n, angle_air_deg, level_per_m2;
    };
    const Row row = GENERATE(Row{.20, .50, 0.00, 1.34, 0.0, 2.980027224},
                             Row{.20, .50, 0.10, 1.34, 9.94001, 2.898213464},
                             Row{.20, .50, 0.30, 1.34, 28.57588, 2.357841568},
                             Row{.20, .50, 0.60, 1.34, 50.82043, 1.331463460},
                             Row{.20, .50, 1.00, 1.34, 68.80110, 0.432356604},
                             Row{.10, .60, 0.25, 1.34, 25.37981, 2.804296294},
                             Row{.30, .40, 0.45, 1.34, 38.60567, 1.633672701},
                             Row{.50, .20, 0.80, 1.34, 52.55475, 0.624885070},
                             Row{.25, .55, 0.30, 1.345, 25.10757, 1.873485430},
                             Row{.15, .05, 0.10, 1.34, 28.37847, 19.870772715},
                             Row{.20, .50, 0.30, 1.00, 23.19859, 1.584732810});
    CAPTURE(row.h, row.d, row.r, row.n);
    Layout layout = black_tank();
    layout.tank.length_m = layout.tank.width_m = 3.0;
    layout.tank.water_depth_m = row.d;
    layout.water.refractive_index = row.n;
    layout.lamps = {lamp_at(Vec3(1.5, 1.5, row.d + row.h), LampShape::point, 0.0, 100.0)};
    // Discs small enough that light is uniform over them to 0.2 %, all around the point below the
    // lamp.
    const double radius = 0.035 * (row.h + row.d / row.n);
    const int around = row.r > 0.0 ? 12 : 1;
    std::vector<monte_carlo::TallyDisc> discs;
    for (int k = 0; k < around; ++k) {
        const double angle = 2.0 * kPi * k / around;
        discs.push_back(
            {Vec3(1.5 + row.r * std::cos(angle), 1.5 + row.r * std::sin(angle), 0.0), radius});
    }
    const Tally tally =
        run_transport(scene_without_reef(layout), one_cell(layout.tank), 1'000'000, discs);
    double sum = 0.0, variance = 0.0;
    for (int k = 0; k < around; ++k) {
        const auto light = tally.light_at(1 + static_cast<std::size_t>(k));
        sum += light.ppfd_umol_m2_s;
        variance += light.stderr_umol_m2_s * light.stderr_umol_m2_s;
    }
    const double intensity = 100.0 / kPi * std::cos(row.angle_air_deg * kPi / 180.0);
    const double expected = intensity * row.level_per_m2, error = std::sqrt(variance) / around;
    CAPTURE(sum / around, expected, error);
    CHECK(error < 0.05 * expected);
    CHECK(std::abs(sum / around - expected) < kMaxStandardErrors * error);
}

TEST_CASE("the Monte Carlo estimate between mirrors is the sum over images of the lamp",
          "[reference]") {
    // Index 1.5: every ray from above meets the sides beyond the critical angle, so the glass is a
    // perfect mirror and light on the bed is the sum over image points of light through the one
    // real opening (the closed form of the test above).
    Layout layout = black_tank();
    Tank& tank = layout.tank;
    tank.length_m = 0.6;
    tank.width_m = 0.4;
    for (Wall& wall : tank.walls) wall.kind = WallKind::glass;
    layout.water.refractive_index = 1.5;
    const Vec3 lamp(0.22, 0.13, 0.6);
    layout.lamps = {lamp_at(lamp, LampShape::point, 0.0, 100.0)};
    const BedGrid bed{6, 4, 0.1, 0.1};
    const Tally tally = run_transport(scene_without_reef(layout), bed, 1'000'000);
    CHECK(tally.ended(End::panes) == 0);
    CHECK(tally.ended(End::sand) ==
          tally.sent() - tally.ended(End::missed) - tally.ended(End::above));

    const auto through_opening = [&](double x, double y) {
        const double dx = x - lamp.x(), dy = y - lamp.y(), r = std::hypot(dx, dy);
        const SurfacePath path = surface_path(0.1, 0.5, r, 1.5);
        const double cx = lamp.x() + path.crossing_m * dx / r;
        const double cy = lamp.y() + path.crossing_m * dy / r;
        if (cx < 0.0 || cx > tank.length_m || cy < 0.0 || cy > tank.width_m) return 0.0;
        return 100.0 / kPi * path.cos_air * path.transmittance * path.spreading_per_m2;
    };
    DeviationStatistics deviations;
    for (int j = 0; j < bed.ny; ++j)
        for (int i = 0; i < bed.nx; ++i)
            deviations.add(tally.light_at(bed.index(i, j)),
                           mean_over_cell(bed, i, j, 60, [&](double x, double y) {
                               double sum = 0.0;
                               for (int a = -6; a <= 6; ++a)
                                   for (int b = -6; b <= 6; ++b)
                                       sum += through_opening(image(x, a, tank.length_m),
                                                              image(y, b, tank.width_m));
                               return sum;
                           }));
    CHECK(deviations.mean_square() > 0.4);
    CHECK(deviations.mean_square() < 2.0);
}

TEST_CASE("photons are absorbed exponentially along their path", "[reference]") {
    // Beer-Lambert law. The pencil beam enters at 40 degrees and is refracted to asin(sin 40 / n).
    Layout layout = black_tank();
    layout.water.attenuation_per_m = 1.7;
    layout.water.refractive_index = 1.34;
    layout.lamps = {pencil_at(Vec3(1.0, 1.0, 0.6), 40.0 * kPi / 180.0, 0.7)};
    // Discs so wide that the beam cannot miss them measure what is left at their depth.
    const Tally tally = run_transport(scene_without_reef(layout), one_cell(layout.tank), 400'000,
                                      {{Vec3(1.0, 1.0, 0.3), 0.9}, {Vec3(1.0, 1.0, 0.0), 0.9}});
    const double cosine = std::sqrt(1.0 - std::pow(std::sin(40.0 * kPi / 180.0) / 1.34, 2));
    const std::uint64_t entered = tally.ended(End::sand) + tally.ended(End::water);
    check_share(tally.ended(End::sand), entered, std::exp(-1.7 * 0.5 / cosine));
    const double photon_umol_s = tally.sent_umol_s() / static_cast<double>(tally.sent());
    const auto seen = [&](std::size_t disc) {
        const double flux_umol_s = tally.light_at(1 + disc).ppfd_umol_m2_s * kPi * 0.9 * 0.9;
        return static_cast<std::uint64_t>(std::llround(flux_umol_s / photon_umol_s));
    };
    check_share(seen(0), entered, std::exp(-1.7 * 0.2 / cosine));
    // One on the sand measures the light on the sand (areas of discs are good to 1e-5).
    CHECK(static_cast<double>(seen(1)) ==
          Approx(static_cast<double>(tally.ended(End::sand))).epsilon(2e-5));
    // Fresnel's equations at 40 degrees, n = 1.34.
    check_share(tally.ended(End::above), tally.sent(), 0.025325);
}

TEST_CASE("absorption acts along the whole path, reflections included", "[reference]") {
    // In a narrow tank of index 1.5, whose glass reflects totally, the beam meets three sides on
    // its way down; its path is no longer: exp(-K d / cos) as in a wide one.
    Layout layout = black_tank();
    layout.tank.length_m = layout.tank.width_m = 0.1;
    for (Wall& wall : layout.tank.walls) wall.kind = WallKind::glass;
    layout.water.attenuation_per_m = 2.0;
    layout.water.refractive_index = 1.5;
    layout.lamps = {pencil_at(Vec3(0.05, 0.05, 0.51), 40.0 * kPi / 180.0, 0.7)};
    const Tally tally = run_transport(scene_without_reef(layout), one_cell(layout.tank), 400'000);
    const double cosine = std::sqrt(1.0 - std::pow(std::sin(40.0 * kPi / 180.0) / 1.5, 2));
    check_share(tally.ended(End::sand), tally.ended(End::sand) + tally.ended(End::water),
                std::exp(-2.0 * 0.5 / cosine));
}

TEST_CASE("photons pass panes with the transmittance of both faces", "[reference]") {
    // Stokes's sum over both faces, from the light field's own code, over the lamp's colours. Right
    // wall under test, the others black, 1.8 m away.
    const auto [kind, index] =
        GENERATE(std::pair(WallKind::glass, &float_glass_refractive_index),
                 std::pair(WallKind::acrylic, &acrylic_refractive_index),
                 std::pair(WallKind::coralline, &float_glass_refractive_index));
    Layout layout = black_tank();
    layout.tank.wall(Side::right).kind = kind;
    layout.water.refractive_index = 1.34;
    const auto passed = [&, pane = index](double cosine, double inside) {
        const Spectrum spectrum = spectrum_of(layout.lamps.front());
        double sum = 0.0;
        for (int b = 0; b < kBands; ++b)
            sum += spectrum.share[static_cast<std::size_t>(b)] *
                   (1.0 - pane_reflectance(cosine, {inside, pane(band_nm(b))}));
        return sum;
    };
    SECTION("dry, above the water, where algae do not grow") {
        layout.tank.rim_m = 0.3;
        layout.lamps = {pencil_at(Vec3(1.9, 1.0, 0.79), kPi / 3.0, 0.0)};
        const Tally tally =
            run_transport(scene_without_reef(layout), one_cell(layout.tank), 400'000);
        check_share(tally.ended(End::panes), tally.sent(), passed(std::sin(kPi / 3.0), 1.0));
        CHECK(tally.ended(End::walls) == 0);
    }
    SECTION("dry, from a lamp beside the tank") {
        layout.tank.rim_m = 0.3;
        layout.lamps = {pencil_at(Vec3(2.1, 1.0, 0.79), kPi / 3.0, kPi)};
        const Tally tally =
            run_transport(scene_without_reef(layout), one_cell(layout.tank), 400'000);
        const std::uint64_t beside = tally.ended(End::missed);
        check_share(tally.sent() - beside, tally.sent(), passed(std::sin(kPi / 3.0), 1.0));
        layout.tank.wall(Side::right).kind = WallKind::black;
        const Tally dark = run_transport(scene_without_reef(layout), one_cell(layout.tank), 1000);
        CHECK(dark.ended(End::missed) == dark.sent());
    }
    SECTION("under water, steeper than total reflection") {
        // 75 degrees in air: the angle from the wall's normal has cosine sin 75 / n.
        const double cosine = std::sin(75.0 * kPi / 180.0) / 1.34;
        layout.lamps = {pencil_at(Vec3(1.8, 1.0, 0.52), 75.0 * kPi / 180.0, 0.0)};
        const Tally tally =
            run_transport(scene_without_reef(layout), one_cell(layout.tank), 400'000);
        if (kind == WallKind::coralline)
            CHECK(tally.ended(End::panes) == 0);
        else
            check_share(tally.ended(End::panes), tally.ended(End::panes) + tally.ended(End::sand),
                        passed(cosine, 1.34));
    }
}

TEST_CASE("photons hit a rock at its position", "[reference]") {
    // Absorption on the path to the rock's top gives the path length.
    Layout layout = black_tank();
    layout.water.attenuation_per_m = 3.0;
    Rock rock;
    rock.shape = RockBox{Vec3(0.8, 0.8, 0.0), Vec3(1.6, 1.2, 0.15)};
    rock.reflectance = 0.0;
    layout.rocks = {rock};
    const double tilt = 35.0 * kPi / 180.0;
    layout.lamps = {pencil_at(Vec3(1.0, 1.0, 0.55), tilt, 0.0)};
    const Tally tally = run_transport(scene_without_reef(layout), one_cell(layout.tank), 400'000);
    check_share(tally.ended(End::rock), tally.sent(), std::exp(-3.0 * 0.35 / std::cos(tilt)));
    CHECK(tally.ended(End::rock) + tally.ended(End::water) == tally.sent());
}

TEST_CASE("photons of each band are absorbed at the rate of that band", "[reference]") {
    Layout layout = black_tank();
    layout.water = Water{};
    layout.water.refractive_index = 1.0;
    layout.water.yellowing_per_m = 0.8;
    layout.lamps = {pencil_at(Vec3(1.0, 1.0, 0.6), 0.0, 0.0)};
    layout.lamps.front().spectrum = {{450.0, 0.0, 0.5}, {660.0, 0.0, 0.5}};
    const Tally tally = run_transport(scene_without_reef(layout), one_cell(layout.tank), 400'000);
    const Spectrum spectrum = spectrum_of(layout.lamps.front());
    const ByBand per_m = attenuation_by_band_per_m(layout.water);
    double left = 0.0;
    for (std::size_t b = 0; b < per_m.size(); ++b)
        left += spectrum.share[b] * std::exp(-0.5 * per_m[b]);
    check_share(tally.ended(End::sand), tally.sent(), left);
}
