// Footprints conserve mass.
#include "model/sediment/footprint.h"

#include <catch2/catch.hpp>

using namespace bedshade;

namespace {

double landed(const Footprint& footprint, double radius_m, const Tank& tank) {
    const double cell = 0.005;
    double sum = 0.0;
    for (double y = 0.5 * cell; y < tank.width_m; y += cell)
        for (double x = 0.5 * cell; x < tank.length_m; x += cell)
            sum += footprint.density_per_m2({x, y}, radius_m, tank) * cell * cell;
    return sum;
}

}  // namespace

TEST_CASE("all sand lands in the tank, also near the glass and in a corner") {
    Tank tank;
    tank.length_m = 0.9;
    tank.width_m = 0.4;
    CHECK(landed({{0.45, 0.2}, 0.02}, 0.0, tank) == Approx(1.0).epsilon(1e-5));
    CHECK(landed({{0.01, 0.2}, 0.05}, 0.0, tank) == Approx(1.0).epsilon(1e-5));
    CHECK(landed({{0.9, 0.4}, 0.03}, 0.0, tank) == Approx(1.0).epsilon(1e-5));
    CHECK(landed({{0.3, 0.1}, 5.0}, 0.0, tank) == Approx(1.0).epsilon(2e-3));
}

TEST_CASE("deposition on a wide coral is the mean over its area") {
    Tank tank;
    tank.length_m = tank.width_m = 1.0;
    const Footprint puff{{0.5, 0.5}, 0.025};
    const double radius = 0.08;
    double sum = 0.0, area = 0.0;
    for (double y = 0.4205; y < 0.58; y += 0.001)
        for (double x = 0.4205; x < 0.58; x += 0.001)
            if (Vec2(x - 0.5, y - 0.5).norm() < radius) {
                sum += puff.density_per_m2({x, y}, 0.0, tank);
                area += 1.0;
            }
    // All but exp(-R^2/(2 s^2)), 0.6 %, of the footprint is on the disc. The convolved Gaussian
    // gives R^2/2 over the sum of variances, s^2 + R^2/4, at its centre: 45 % more than the true
    // mean, and less away from it. A point there gets R^2/2 over s^2.
    const double mean = sum / area;
    CHECK(puff.density_per_m2({0.5, 0.5}, radius, tank) / mean == Approx(1.447).epsilon(0.01));
    CHECK(puff.density_per_m2({0.5, 0.5}, 0.0, tank) / mean == Approx(5.151).epsilon(0.01));
}
