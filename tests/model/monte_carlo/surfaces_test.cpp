// One photon at a boundary against published reflectances and the moments of scattering laws.
#include "model/monte_carlo/surfaces.h"

#include <catch2/catch.hpp>
#include <cmath>

#include "model/base/random.h"

using namespace bedshade;
using namespace bedshade::monte_carlo;

namespace {

double cos_deg(double degrees) { return std::cos(degrees * kPi / 180.0); }

RandomStream draws() { return {1, 0, Process::monte_carlo, 0, 0}; }

}  // namespace

TEST_CASE("reflectance of the water surface follows Fresnel's equations", "[reference]") {
    // Jerlov 1976, Marine Optics, Table XVI (n = 4/3, percent, one decimal).
    const double angle[] = {0, 10, 20, 30, 40, 50, 60, 70, 75, 80, 85};
    const double percent[] = {2.0, 2.0, 2.1, 2.1, 2.4, 3.4, 5.9, 13.3, 21.2, 34.9, 58.3};
    for (std::size_t i = 0; i < std::size(angle); ++i) {
        CAPTURE(angle[i]);
        CHECK(100.0 * interface_optics(cos_deg(angle[i]), 1.0, 4.0 / 3.0).reflectance() ==
              Approx(percent[i]).epsilon(0).margin(0.1));
    }
    // Fresnel's equations evaluated independently, from the air and from the water, n = 1.34.
    CHECK(interface_optics(cos_deg(60), 1.0, 1.34).reflectance() ==
          Approx(0.061005).epsilon(0).margin(1e-6));
    CHECK(interface_optics(cos_deg(89), 1.0, 1.34).reflectance() ==
          Approx(0.896796).epsilon(0).margin(1e-6));
    CHECK(interface_optics(cos_deg(40), 1.34, 1.0).reflectance() ==
          Approx(0.058813).epsilon(0).margin(1e-6));
    CHECK(interface_optics(cos_deg(48), 1.34, 1.0).reflectance() ==
          Approx(0.570533).epsilon(0).margin(1e-6));
}

TEST_CASE("refraction follows Snell's law and reflection is total beyond the critical angle",
          "[reference]") {
    // n = 1.34: 60 degrees in air are 40.262 in water; the critical angle is 48.2682 degrees.
    CHECK(interface_optics(cos_deg(60), 1.0, 1.34).cos_beyond ==
          Approx(cos_deg(40.262)).margin(1e-5));
    CHECK_FALSE(interface_optics(cos_deg(48.268), 1.34, 1.0).total_reflection());
    CHECK(interface_optics(cos_deg(48.269), 1.34, 1.0).total_reflection());
    CHECK(interface_optics(cos_deg(48.269), 1.34, 1.0).reflectance() == 1.0);
    // No reflection between equal media.
    CHECK(interface_optics(cos_deg(70), 1.34, 1.34).reflectance() == 0.0);
    CHECK(interface_optics(cos_deg(70), 1.34, 1.34).cos_beyond ==
          Approx(cos_deg(70)).epsilon(1e-12));
}

TEST_CASE("a pane reflects the sum over both faces", "[reference]") {
    // The two-face sum evaluated independently for water 1.34, glass 1.52, air; acrylic 1.49.
    const double angle[] = {0, 10, 20, 30, 40, 45, 46, 47, 48, 48.2};
    const double share[] = {.046212, .046266, .047257, .053782, .093589,
                            .196109, .250308, .345966, .601591, .770243};
    for (std::size_t i = 0; i < std::size(angle); ++i) {
        CAPTURE(angle[i]);
        CHECK(pane_reflectance_of(cos_deg(angle[i]), {1.34, 1.52, 1.0}) ==
              Approx(share[i]).epsilon(0).margin(1e-6));
    }
    CHECK(pane_reflectance_of(cos_deg(48.27), {1.34, 1.52, 1.0}) == 1.0);
    CHECK(pane_reflectance_of(1.0, {1.34, 1.49, 1.0}) == Approx(.041321).epsilon(0).margin(1e-6));
    // Dry on both sides, normal incidence: 2 R / (1 + R) with R = ((n - 1) / (n + 1))^2.
    const double face = std::pow(0.52 / 2.52, 2.0);
    CHECK(pane_reflectance_of(1.0, {1.0, 1.52, 1.0}) ==
          Approx(2.0 * face / (1.0 + face)).epsilon(1e-12));
}

TEST_CASE("scattered directions follow their distributions", "[reference]") {
    // Lambert: mean cosine 2/3, mean squared cosine 1/2, no bias across; isotropic: 0 and 1/3.
    auto random = draws();
    const Vec3 normal = Vec3(1.0, -2.0, 0.5).normalized();
    Vec3 mean = Vec3::Zero(), even_mean = Vec3::Zero();
    double square = 0.0, even_square = 0.0;
    constexpr int kDraws = 400'000;
    for (int i = 0; i < kDraws; ++i) {
        const double u = random.uniform(), v = random.uniform();
        const Vec3 d = lambertian(normal, u, v), e = isotropic(u, v);
        REQUIRE(d.norm() == Approx(1.0).epsilon(1e-12));
        REQUIRE(d.dot(normal) >= -1e-12);
        mean += d / kDraws;
        square += std::pow(d.dot(normal), 2.0) / kDraws;
        even_mean += e / kDraws;
        even_square += std::pow(e.dot(normal), 2.0) / kDraws;
    }
    // Four standard errors of each: deviations are below 0.6, 0.3, 1 and 0.3.
    CHECK((mean - 2.0 / 3.0 * normal).norm() < 4.0 * 0.8 / std::sqrt(kDraws));
    CHECK(square == Approx(0.5).epsilon(0).margin(4.0 * 0.3 / std::sqrt(kDraws)));
    CHECK(even_mean.norm() < 4.0 / std::sqrt(kDraws));
    CHECK(even_square == Approx(1.0 / 3.0).epsilon(0).margin(4.0 * 0.3 / std::sqrt(kDraws)));
}
