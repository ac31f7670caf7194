// Refraction at a flat surface against published indices and independently traced light.
#include <catch2/catch.hpp>
#include <cmath>

#include "model/light/fresnel.h"
#include "model/light/refractive_index.h"
#include "model/light/surface.h"

using namespace bedshade;

namespace {

double degrees(double rad) { return rad * 180.0 / kPi; }

struct TracedRow {
    double h, d, r, n;
    double angle_air_deg, angle_water_deg;
    double level_per_m2, facing_per_m2;
};

// Light of a point source of unit intensity, with surface loss, without absorption. Each value was
// found three ways that agree: the closed form; tracing pencils of rays by vector Snell and
// measuring where they land (to 4e-13); counting 4.2 million rays in a small disc (to 1e-3).
constexpr TracedRow kTraced[] = {
    {.20, .50, 0.00, 1.34, 0.0, 0.0, 2.980027224, 2.980027224},
    {.20, .50, 0.10, 1.34, 9.94001, 7.40133, 2.898213464, 2.922563771},
    {.20, .50, 0.30, 1.34, 28.57588, 20.91342, 2.357841568, 2.524128982},
    {.20, .50, 0.60, 1.34, 50.82043, 35.34405, 1.331463460, 1.632309378},
    {.20, .50, 1.00, 1.34, 68.80110, 44.08854, 0.432356604, 0.601945452},
    {.10, .60, 0.25, 1.34, 25.37981, 18.65466, 2.804296294, 2.959792805},
    {.30, .40, 0.45, 1.34, 38.60567, 27.75161, 1.633672701, 1.846011010},
    {.50, .20, 0.00, 1.34, 0.0, 0.0, 2.322224306, 2.322224306},
    {.50, .20, 0.80, 1.34, 52.55475, 36.33381, 0.624885070, 0.775696984},
    {.25, .55, 0.30, 1.345, 25.10757, 18.38973, 1.873485430, 1.974308244},
    {.25, .55, 0.30, 1.336, 25.00179, 18.44247, 1.859977824, 1.960674575},
    {.15, .05, 0.10, 1.34, 28.37847, 20.77486, 19.870772715, 21.252586402},
    {.20, .50, 0.30, 1.00, 23.19859, 23.19859, 1.584732810, 1.724137931},
};

}  // namespace

TEST_CASE("seawater's index is Quan and Fry's", "[published]") {
    // Quan & Fry 1995, evaluated independently from its coefficients.
    CHECK(seawater_refractive_index(25, 35, 400) == Approx(1.349372).epsilon(0).margin(1e-6));
    CHECK(seawater_refractive_index(25, 35, 450) == Approx(1.345302).epsilon(0).margin(1e-6));
    CHECK(seawater_refractive_index(25, 35, 500) == Approx(1.342414).epsilon(0).margin(1e-6));
    CHECK(seawater_refractive_index(25, 35, 550) == Approx(1.340238).epsilon(0).margin(1e-6));
    CHECK(seawater_refractive_index(25, 35, 589.3) == Approx(1.338858).epsilon(0).margin(1e-6));
    CHECK(seawater_refractive_index(25, 35, 700) == Approx(1.335937).epsilon(0).margin(1e-6));
    // The accepted index of pure water in sodium light at 20 degC, 1.33299 (value from memory).
    CHECK(seawater_refractive_index(20, 0, 589.3) == Approx(1.33300).epsilon(0).margin(2e-5));
}

TEST_CASE("panes have their published indices", "[published]") {
    // Rubin 1985; Sultanova et al. 2009; acrylic at 587.6 nm measured by Kasarova et al. 2007
    // on another sample.
    CHECK(float_glass_refractive_index(450) == Approx(1.53192).epsilon(0).margin(1e-5));
    CHECK(float_glass_refractive_index(550) == Approx(1.52514).epsilon(0).margin(1e-5));
    CHECK(float_glass_refractive_index(650) == Approx(1.52104).epsilon(0).margin(1e-5));
    CHECK(acrylic_refractive_index(450) == Approx(1.5006).epsilon(0).margin(5e-5));
    CHECK(acrylic_refractive_index(550) == Approx(1.4926).epsilon(0).margin(5e-5));
    CHECK(acrylic_refractive_index(587.6) == Approx(1.4914).epsilon(0).margin(1e-3));
}

TEST_CASE("a point source through a flat surface lights what tracing says", "[published]") {
    for (const TracedRow& row : kTraced) {
        CAPTURE(row.h, row.d, row.r, row.n);
        const SurfacePath path = surface_path(row.h, row.d, row.r, row.n);
        CHECK(degrees(std::acos(path.cos_air)) ==
              Approx(row.angle_air_deg).epsilon(0).margin(1e-5));
        CHECK(degrees(std::acos(path.cos_water)) ==
              Approx(row.angle_water_deg).epsilon(0).margin(1e-5));
        const double level = path.transmittance * path.spreading_per_m2;
        CHECK(level == Approx(row.level_per_m2).epsilon(0).margin(6e-10));
        CHECK(scalar_factor_per_m2(path) == Approx(row.facing_per_m2).epsilon(0).margin(6e-10));
    }
}

TEST_CASE("below the lamp water acts as if its depth were d over n", "[published]") {
    // Apparent depth, e.g. Born & Wolf, Principles of Optics (from memory).
    const double n = 1.34;
    const double seen = 0.2 + 0.5 / n;
    CHECK(surface_path(0.2, 0.5, 0.0, n).spreading_per_m2 ==
          Approx(1 / (seen * seen)).epsilon(1e-14));
}

TEST_CASE("all that passes the surface lands on the floor", "[published]") {
    // Isotropic source of unit intensity: flux through the surface 2 pi int T sin, by quadrature in
    // the angle in air 5.185478388; here the landing light is summed over the floor instead, in
    // rings of the variable x = r^2/(r^2 + 0.5) that reaches to infinity.
    const int count = 400000;
    double flux = 0.0;
    for (int i = 0; i < count; ++i) {
        const double x = (i + 0.5) / count;
        const double one_less = 1.0 - x;
        const double r2 = 0.5 * x / one_less;
        const double ring_m2 = kPi * 0.5 / (one_less * one_less) / count;
        const SurfacePath path = surface_path(0.2, 0.5, std::sqrt(r2), 1.34);
        flux += ring_m2 * path.spreading_per_m2 * path.transmittance;
    }
    CHECK(flux == Approx(5.185478388).epsilon(1e-6));
}
