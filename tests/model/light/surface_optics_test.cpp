// Refracted paths through the surface: limits, corner cases and helper functions.
#include <catch2/catch.hpp>
#include <cmath>

#include "model/light/refractive_index.h"
#include "model/light/surface.h"

using namespace bedshade;

TEST_CASE("without refraction the inverse-square law holds") {
    for (const double r : {0.0, 0.05, 0.3, 2.0, 50.0}) {
        CAPTURE(r);
        const double h = 0.2, d = 0.5;
        const SurfacePath path = surface_path(h, d, r, 1.0);
        const double distance = std::hypot(h + d, r);
        const double cosine = (h + d) / distance;
        CHECK(path.spreading_per_m2 == Approx(cosine / (distance * distance)).epsilon(1e-13));
        CHECK(path.cos_air == Approx(cosine).epsilon(1e-14));
        CHECK(path.cos_water == Approx(cosine).epsilon(1e-14));
        CHECK(path.transmittance == Approx(1.0).epsilon(1e-14));
        CHECK(path.path_water_m == Approx(d / cosine).epsilon(1e-14));
        CHECK(path.crossing_m == Approx(r * h / (h + d)).epsilon(0).margin(1e-16));
    }
}

TEST_CASE("every path reaches its receptor by Snell's law") {
    for (double h = 1e-5; h < 1e3; h *= 7.3)
        for (double d = 1e-5; d < 1e3; d *= 5.1)
            for (double r = 1e-6; r < 1e6; r *= 3.7)
                for (const double n : {1.0, 1.000001, 1.336, 1.345, 1.6}) {
                    const SurfacePath path = surface_path(h, d, r, n);
                    const double sin_water = path.sin_air / n;
                    const double landed = path.crossing_m + path.path_water_m * sin_water;
                    const bool good =
                        std::abs(landed / r - 1) < 1e-12 &&
                        std::abs(path.cos_water * path.cos_water + sin_water * sin_water - 1) <
                            1e-13 &&
                        std::abs(path.path_water_m * path.cos_water / d - 1) < 1e-13 &&
                        path.spreading_per_m2 > 0 && path.transmittance > 0 &&
                        path.transmittance <= 1;
                    if (!good) FAIL("h " << h << " d " << d << " r " << r << " n " << n);
                }
    SUCCEED();
}

TEST_CASE("spreading equals the area of a ring of rays") {
    // The ring between two rays at slightly different angles, dE = d(flux) / d(area), by finite
    // differences.
    const double h = 0.17, d = 0.44, n = 1.341;
    const auto landing = [&](double angle) {
        const double s = std::sin(angle);
        return h * std::tan(angle) + d * s / std::sqrt(n * n - s * s);
    };
    for (const double angle : {0.1, 0.5, 1.0, 1.4}) {
        const double hair = 1e-5;
        const double inner = landing(angle - hair), outer = landing(angle + hair);
        const double flux = 2 * kPi * (std::cos(angle - hair) - std::cos(angle + hair));
        const double area = kPi * (outer - inner) * (outer + inner);
        CHECK(surface_path(h, d, landing(angle), n).spreading_per_m2 ==
              Approx(flux / area).epsilon(1e-7));
    }
}

TEST_CASE("transmittance and reflectance sum to one") {
    for (const double r : {0.0, 0.2, 0.8, 3.0}) {
        const SurfacePath path = surface_path(0.2, 0.5, r, 1.34);
        CHECK(path.transmittance ==
              Approx(1 - air_to_water_reflectance(path.cos_air, 1.34)).epsilon(1e-12));
        CHECK(path.transmittance ==
              Approx(1 - water_to_air_reflectance(path.cos_water, 1.34)).epsilon(1e-10));
    }
}

TEST_CASE("a receptor out of the water is lit straight through the air") {
    const SurfacePath path = surface_path(0.3, -0.1, 0.2, 1.34);
    const double distance = std::hypot(0.2, 0.2);
    CHECK(path.spreading_per_m2 == Approx(0.2 / std::pow(distance, 3)).epsilon(1e-14));
    CHECK(path.transmittance == 1.0);
    CHECK(path.path_water_m == 0.0);
    CHECK(surface_path(0.3, -0.3, 0.2, 1.34).spreading_per_m2 == 0.0);
    CHECK(surface_path(0.3, -0.4, 0.2, 1.34).spreading_per_m2 == 0.0);
    // A lamp below the surface is raised to it.
    const SurfacePath dipped = surface_path(-0.05, 0.3, 0.2, 1.34);
    CHECK(std::isfinite(dipped.spreading_per_m2));
    CHECK(dipped.spreading_per_m2 > 0.0);
}

TEST_CASE("crossing, directions and facets agree with the path") {
    const Vec3 source(0.3, 0.2, 0.75), receptor(0.6, 0.6, 0.1);
    const double surface_z = 0.55, n = 1.34;
    const SurfacePath path = surface_path(source, receptor, surface_z, n);
    const SurfacePath same = surface_path(0.2, 0.45, 0.5, n);
    CHECK(path.spreading_per_m2 == Approx(same.spreading_per_m2).epsilon(1e-13));
    const Vec3 crossing = crossing_point(source, receptor, surface_z, path);
    CHECK(crossing.z() == surface_z);
    CHECK((crossing - receptor).norm() == Approx(path.path_water_m).epsilon(1e-13));
    const Vec3 to_light = direction_to_light(source, receptor, n, path);
    CHECK(to_light.norm() == Approx(1.0).epsilon(1e-14));
    CHECK((to_light - (crossing - receptor).normalized()).norm() < 1e-13);
    const Vec3 down = direction_in_air(source, receptor, path);
    CHECK((down - (crossing - source).normalized()).norm() < 1e-13);

    const double level = path.transmittance * path.spreading_per_m2;
    CHECK(facet_factor_per_m2(path, Vec3::UnitZ(), to_light) == Approx(level).epsilon(1e-14));
    CHECK(facet_factor_per_m2(path, to_light, to_light) ==
          Approx(scalar_factor_per_m2(path)).epsilon(1e-14));
    CHECK(facet_factor_per_m2(path, -Vec3::UnitZ(), to_light) == 0.0);
    CHECK(scalar_factor_per_m2(path) == Approx(level / path.cos_water).epsilon(1e-14));
}

TEST_CASE("the helper functions hold directly below the source and out of the water") {
    const Vec3 source(0.3, 0.2, 0.75), below(0.3, 0.2, 0.1), dry(0.5, 0.2, 0.6);
    const SurfacePath down = surface_path(source, below, 0.55, 1.34);
    CHECK(crossing_point(source, below, 0.55, down) == Vec3(0.3, 0.2, 0.55));
    CHECK(direction_to_light(source, below, 1.34, down) == Vec3::UnitZ());
    CHECK(direction_in_air(source, below, down) == -Vec3::UnitZ());
    const SurfacePath air = surface_path(source, dry, 0.55, 1.34);
    CHECK(crossing_point(source, dry, 0.55, air) == source);
    CHECK((direction_to_light(source, dry, 1.34, air) - (source - dry).normalized()).norm() <
          1e-14);
}

TEST_CASE("an index set in the layout replaces the formula") {
    Water water;
    CHECK(refractive_index(water) ==
          seawater_refractive_index(water.temperature_C, water.salinity_g_kg, kPpfdIndexNm));
    CHECK(refractive_index(water, 700) < refractive_index(water, 400));
    water.refractive_index = 1.3;
    CHECK(refractive_index(water, 650) == 1.3);
}
