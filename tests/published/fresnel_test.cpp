// Reflection at the surface and at panes against published tables.
#include "model/light/fresnel.h"

#include <catch2/catch.hpp>
#include <cmath>
#include <utility>

#include "model/base/geometry.h"
#include "model/light/surface.h"

using namespace bedshade;

namespace {

double cos_deg(double degrees) { return std::cos(degrees * kPi / 180.0); }

/// Cosine-weighted mean of a reflectance over a half-space, by the midpoint rule in cos^2.
template <class Reflectance>
double diffuse_mean(Reflectance&& reflectance, int count) {
    double sum = 0.0;
    for (int i = 0; i < count; ++i) sum += reflectance(std::sqrt((i + 0.5) / count));
    return sum / count;
}

}  // namespace

TEST_CASE("the surface reflects light from the air as Jerlov's table says", "[published]") {
    // Jerlov 1976, Marine Optics, Table XVI, in per cent, n = 4/3.
    const std::pair<double, double> table[] = {{0, 2.0},   {10, 2.0},  {20, 2.1}, {30, 2.1},
                                               {40, 2.4},  {50, 3.4},  {60, 5.9}, {70, 13.3},
                                               {75, 21.2}, {80, 34.9}, {85, 58.3}};
    for (const auto& [angle, percent] : table) {
        CAPTURE(angle);
        // One unit of the last digit printed; the table's own 80 deg is 0.1 above the equations.
        CHECK(100 * air_to_water_reflectance(cos_deg(angle), 4.0 / 3) ==
              Approx(percent).epsilon(0).margin(0.11));
    }
}

TEST_CASE("Fresnel's equations from air and from water", "[published]") {
    // Evaluated independently from Fresnel's equations (Born & Wolf, Principles of Optics).
    CHECK(air_to_water_reflectance(1.0, 4.0 / 3) == Approx(1.0 / 49).epsilon(1e-12));
    const std::pair<double, double> from_air[] = {
        {0, .021112},  {10, .021123}, {20, .021298}, {30, .022199}, {40, .025325}, {50, .034646},
        {60, .061005}, {70, .135361}, {75, .214558}, {80, .350200}, {85, .585329}, {89, .896796}};
    for (const auto& [angle, expected] : from_air)
        CHECK(air_to_water_reflectance(cos_deg(angle), 1.34) ==
              Approx(expected).epsilon(0).margin(1e-6));
    const std::pair<double, double> from_water[] = {{0, .021112},  {10, .021148}, {20, .021822},
                                                    {30, .026534}, {40, .058813}, {45, .152861},
                                                    {47, .302291}, {48, .570533}};
    for (const auto& [angle, expected] : from_water)
        CHECK(water_to_air_reflectance(cos_deg(angle), 1.34) ==
              Approx(expected).epsilon(0).margin(1e-6));
    CHECK(water_to_air_reflectance(cos_deg(48.27), 1.34) == 1.0);
    CHECK(critical_angle_rad(1.34) * 180 / kPi == Approx(48.2682).epsilon(0).margin(1e-4));
    CHECK(critical_angle_rad(4.0 / 3) * 180 / kPi == Approx(48.5904).epsilon(0).margin(1e-4));
}

TEST_CASE("within the plane of incidence nothing returns at Brewster's angle", "[published]") {
    const double n = 1.34;
    const Polarised at = fresnel(std::cos(std::atan(n)), 1.0, n);
    CHECK(at.p == Approx(0.0).epsilon(0).margin(1e-30));
    CHECK(at.s == Approx(std::pow((n * n - 1) / (n * n + 1), 2)).epsilon(1e-12));
}

TEST_CASE("diffuse reflectances of the surface", "[published]") {
    // 6.6 % from the air at n = 4/3 and 48 % from below at n = 1.34 (Jerlov 1976; further digits by
    // quadrature of Fresnel's equations).
    CHECK(diffuse_air_to_water_reflectance(4.0 / 3) == Approx(.066458).epsilon(0).margin(1e-6));
    CHECK(diffuse_air_to_water_reflectance(1.34) == Approx(.067511).epsilon(0).margin(1e-6));
    CHECK(diffuse_air_to_water_reflectance(1.345) == Approx(.068297).epsilon(0).margin(1e-6));
    CHECK(diffuse_water_to_air_reflectance(4.0 / 3) == Approx(.474883).epsilon(0).margin(1e-6));
    CHECK(diffuse_water_to_air_reflectance(1.34) == Approx(.480681).epsilon(0).margin(1e-6));
    CHECK(diffuse_water_to_air_reflectance(1.345) == Approx(.484970).epsilon(0).margin(1e-6));
    for (const double n : {1.01, 1.34, 1.5}) {
        CAPTURE(n);
        CHECK(diffuse_air_to_water_reflectance(n) ==
              Approx(diffuse_mean([n](double c) { return air_to_water_reflectance(c, n); }, 200000))
                  .epsilon(1e-5));
        CHECK(diffuse_water_to_air_reflectance(n) ==
              Approx(diffuse_mean([n](double c) { return water_to_air_reflectance(c, n); }, 200000))
                  .epsilon(1e-4));
    }
}

TEST_CASE("panes between water and air", "[published]") {
    // Both faces summed as intensities, polarisation by polarisation, computed independently.
    const Pane glass{1.34, 1.52};
    const std::pair<double, double> table[] = {
        {0, .046212},  {10, .046266}, {20, .047257}, {30, .053782}, {40, .093589},
        {45, .196109}, {46, .250308}, {47, .345966}, {48, .601591}, {48.2, .770243}};
    for (const auto& [angle, expected] : table) {
        CAPTURE(angle);
        CHECK(pane_reflectance(cos_deg(angle), glass) == Approx(expected).epsilon(0).margin(1e-6));
    }
    CHECK(pane_reflectance(cos_deg(48.27), glass) == Approx(1.0).epsilon(1e-12));
    CHECK(pane_reflectance(cos_deg(80), glass) == Approx(1.0).epsilon(1e-12));
    CHECK(pane_reflectance(1.0, {1.34, 1.49}) == Approx(.041321).epsilon(0).margin(1e-6));
    CHECK(pane_reflectance(cos_deg(40), {1.34, 1.49}) == Approx(.087688).epsilon(0).margin(1e-6));
    CHECK(diffuse_mean([&](double c) { return pane_reflectance(c, glass); }, 100000) ==
          Approx(.4978).epsilon(0).margin(1e-4));
}

TEST_CASE("lamp light meets clean glass beyond the critical angle", "[published]") {
    // A ray that entered at air zenith a and azimuth f to the wall's normal meets it at
    // cos i = sin a |cos f| / n: wholly returned up to sin a |cos f| = sqrt(n^2 - 1).
    const double n = 1.34;
    const Pane glass{n, 1.52};
    const auto cos_on_wall = [n](double air_deg) { return std::sin(air_deg * kPi / 180) / n; };
    CHECK(pane_reflectance(cos_on_wall(60), glass) == Approx(1.0).epsilon(1e-12));
    CHECK(pane_reflectance(cos_on_wall(63.11), glass) == Approx(1.0).epsilon(1e-12));
    CHECK(pane_reflectance(cos_on_wall(63.2), glass) < 0.99);
    CHECK(std::acos(cos_on_wall(70)) * 180 / kPi == Approx(45.47).epsilon(0).margin(0.01));
    CHECK(pane_reflectance(cos_on_wall(70), glass) < 0.25);
}
