// Position, direction and wavelength of sampled photons, by the moments of their distributions.
#include "model/monte_carlo/lamp_source.h"

#include <Eigen/Geometry>
#include <catch2/catch.hpp>
#include <cmath>

#include "model/base/random.h"

#include "tests/layouts.h"

using namespace bedshade;
using namespace bedshade::test;
using monte_carlo::LampSource;

namespace {

constexpr int kDraws = 200'000;

/// Means over points and directions of a lamp, in tank coordinates.
struct Moments {
    Vec3 point_m = Vec3::Zero(), direction = Vec3::Zero();
    Eigen::Matrix3d spread_m2 = Eigen::Matrix3d::Zero();

    explicit Moments(const Lamp& lamp) {
        const LampSource source(lamp);
        RandomStream random(9, 0, Process::monte_carlo, 0, 0);
        for (int i = 0; i < kDraws; ++i) {
            const double a = random.uniform(), b = random.uniform();
            const double c = random.uniform(), d = random.uniform();
            const Vec3 off = source.point_m(a, b) - lamp.centre_m;
            point_m += off / kDraws;
            spread_m2 += off * off.transpose() / kDraws;
            direction += source.direction(c, d) / kDraws;
        }
    }
};

Lamp tilted_lamp(LampShape shape) {
    Lamp lamp = lamp_at(Vec3(0.4, 0.3, 0.8), shape, 0.2, 100.0);
    lamp.tilt_rad = kPi / 3.0;
    lamp.azimuth_rad = kPi / 2.0;
    lamp.beam_exponent = 3.0;
    return lamp;
}

}  // namespace

TEST_CASE("photons start uniformly on the lamp's tilted face", "[reference]") {
    // Tilted by 60 degrees toward +y, the face holds the x axis and (0, cos 60, sin 60). Mean
    // square offsets: side^2/12 for a rectangle, diameter^2/16 for a disc.
    Lamp rectangle = tilted_lamp(LampShape::rectangle);
    rectangle.size_m = Vec2(0.3, 0.1);  // the first side tilts with the beam
    const Lamp disc = tilted_lamp(LampShape::disc);
    const Vec3 leaning(0.0, 0.5, std::sqrt(0.75)), level = Vec3::UnitX();
    const Vec3 across = leaning.cross(level);
    const auto square = [](const Moments& m, const Vec3& axis) {
        return axis.dot(m.spread_m2 * axis);
    };
    const Moments of_rectangle(rectangle), of_disc(disc);
    // The standard error of a mean square of n samples is below itself over sqrt n.
    const double error = 4.0 / std::sqrt(kDraws);
    CHECK(square(of_rectangle, leaning) == Approx(0.09 / 12.0).epsilon(error));
    CHECK(square(of_rectangle, level) == Approx(0.01 / 12.0).epsilon(error));
    CHECK(square(of_rectangle, across) == Approx(0.0).margin(1e-15));
    CHECK(square(of_disc, leaning) == Approx(0.04 / 16.0).epsilon(error));
    CHECK(square(of_disc, level) == Approx(0.04 / 16.0).epsilon(error));
    CHECK(square(of_disc, across) == Approx(0.0).margin(1e-15));
    CHECK(of_rectangle.point_m.norm() < 0.2 * error);
    CHECK(of_disc.point_m.norm() < 0.2 * error);
    CHECK(Moments(tilted_lamp(LampShape::point)).spread_m2.norm() == 0.0);
}

TEST_CASE("photons leave around the lamp's tilted axis", "[reference]") {
    // A beam of cos^m has mean direction (m + 1) / (m + 2) along its axis.
    const Vec3 axis(0.0, std::sqrt(0.75), -0.5);
    const Vec3 mean = Moments(tilted_lamp(LampShape::point)).direction;
    CHECK((mean - 0.8 * axis).norm() < 4.0 / std::sqrt(kDraws));
}

TEST_CASE("photons have the lamp's spectrum", "[reference]") {
    Lamp lamp = lamp_at(Vec3::Zero(), LampShape::point, 0.0, 1.0);
    lamp.spectrum = {{430.0, 0.0, 0.3}, {600.0, 0.0, 0.7}};
    const LampSource source(lamp);
    const Spectrum spectrum = spectrum_of(lamp);
    RandomStream random(11, 0, Process::monte_carlo, 0, 0);
    std::array<int, kBands> counts{};
    for (int i = 0; i < kDraws; ++i)
        ++counts[static_cast<std::size_t>(source.band(random.uniform()))];
    for (std::size_t b = 0; b < counts.size(); ++b) {
        CAPTURE(b);
        const double expected = kDraws * spectrum.share[b];
        CHECK(std::abs(counts[b] - expected) <= 4.0 * std::sqrt(expected) + 1.0);
    }
}
