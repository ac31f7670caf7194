// Photons sampled from measured beams against the beams themselves: the two share no code.
#include "model/monte_carlo/web_sampler.h"

#include <catch2/catch.hpp>
#include <cmath>

#include "model/base/random.h"
#include "model/light/light_field.h"
#include "model/light/photometric_beam.h"

#include "tests/model/monte_carlo/transport_checks.h"
#include "tests/webs.h"

using namespace bedshade;
using namespace bedshade::test;
using monte_carlo::LampSource;

namespace {

constexpr int kDraws = 200'000;

Lamp lamp_with(std::shared_ptr<const PhotometricWeb> web) {
    Lamp lamp = lamp_at(Vec3(0.9, 1.1, 0.75), LampShape::point, 0.0, 100.0);
    lamp.tilt_rad = 0.3;
    lamp.azimuth_rad = 1.0;
    lamp.web = std::move(web);
    return lamp;
}

/// Mean over directions of x, y, z and of their products, by sums over the sphere.
using Moments = Eigen::Array<double, 9, 1>;

Moments moments_of(const Vec3& d) {
    Moments m;
    m << d.x(), d.y(), d.z(), d.x() * d.x(), d.y() * d.y(), d.z() * d.z(), d.x() * d.y(),
        d.y() * d.z(), d.z() * d.x();
    return m;
}

Moments expected_moments(const Emitter& emitter) {
    const int count = 500;
    Moments sum = Moments::Zero();
    for (int i = 0; i < count; ++i) {
        const double z = -1.0 + 2.0 * (i + 0.5) / count, s = std::sqrt(1.0 - z * z);
        for (int j = 0; j < count; ++j) {
            const double a = 2.0 * kPi * (j + 0.5) / count;
            const Vec3 d(s * std::cos(a), s * std::sin(a), z);
            sum += intensity_umol_s_sr(emitter, 1.0, d) * moments_of(d);
        }
    }
    return sum * (4.0 * kPi / (count * count));
}

}  // namespace

TEST_CASE("photons of a measured beam have its moments", "[reference]") {
    const auto web = GENERATE(uneven_web(), floodlight_web(), cosine_web(10.0, 5.0));
    const Lamp lamp = lamp_with(web);
    const LampSource source(lamp);
    RandomStream random(3, 0, Process::monte_carlo, 0, 0);
    Moments mean = Moments::Zero();
    for (int i = 0; i < kDraws; ++i) {
        const double u = random.uniform(), v = random.uniform();
        mean += moments_of(source.direction(u, v)) / kDraws;
    }
    const Moments expected = expected_moments(emitter_of(lamp));
    // The standard deviation of a component of a unit vector is below 1; 4 standard errors plus the
    // error of the sum.
    for (int k = 0; k < 9; ++k) {
        CAPTURE(k);
        CHECK(std::abs(mean[k] - expected[k]) < 4.0 / std::sqrt(kDraws) + 3e-4);
    }
}

TEST_CASE("samples at the edges of a web stay inside it", "[reference]") {
    const monte_carlo::WebSampler sampler(floodlight_web());
    for (const double u : {1e-12, 0.5, 1.0 - 1e-12})
        for (const double v : {1e-12, 0.5, 1.0 - 1e-12}) {
            const auto [turn, polar] = sampler.sample(u, v);
            CHECK(std::abs(turn) <= 0.5 * kPi);
            CHECK(polar >= 0.0);
            CHECK(polar <= kPi);
        }
}

TEST_CASE("the Monte Carlo estimate of an asymmetric beam equals the light field", "[reference]") {
    Layout layout = black_tank();
    layout.water.refractive_index = 1.34;
    layout.lamps = {lamp_with(GENERATE(uneven_web(), floodlight_web()))};
    const BedGrid bed{4, 4, 0.5, 0.5};
    const Tally tally = run_transport(scene_without_reef(layout), bed, 1'000'000);

    // A cell's mean by the midpoint rule with 16 x 16 parts.
    LightField field(layout, BedGrid{64, 64, 0.03125, 0.03125});
    field.update(run_serially);
    const auto fine = field.bed(lamps_on(layout, 0.0, 1.0), run_serially);
    for (int j = 0; j < bed.ny; ++j)
        for (int i = 0; i < bed.nx; ++i) {
            double mean = 0.0;
            for (int k = 0; k < 256; ++k)
                mean += fine[static_cast<std::size_t>((16 * j + k / 16) * 64 + 16 * i + k % 16)] /
                        256.0;
            const auto found = tally.light_at(bed.index(i, j));
            CAPTURE(i, j, mean, found.ppfd_umol_m2_s, found.stderr_umol_m2_s);
            CHECK(found.stderr_umol_m2_s < 0.02 * found.ppfd_umol_m2_s);
            CHECK(std::abs(found.ppfd_umol_m2_s - mean) < 3.0 * found.stderr_umol_m2_s);
        }
    // Light that the lamp sends upward or beside the tank is tallied as missed.
    CHECK(tally.ended(End::missed) > tally.sent() / 20);
}
