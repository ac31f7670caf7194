// Emitter sample points lie on the face and cover it uniformly, and intensity integrates to the
// flux.
#include <catch2/catch.hpp>
#include <cmath>

#include "model/light/emitter.h"

using namespace bedshade;

namespace {

Lamp lamp_of(LampShape shape, double side_x, double side_y) {
    Lamp lamp;
    lamp.shape = shape;
    lamp.centre_m = {0.3, 0.4, 0.8};
    lamp.size_m = {side_x, side_y};
    return lamp;
}

/// Flux over all directions, by the midpoint rule on a grid of polar angle and azimuth.
double total_flux(const Emitter& emitter, double flux) {
    const int count = 400;
    double sum = 0.0;
    for (int i = 0; i < count; ++i) {
        const double cosine = -1 + 2 * (i + 0.5) / count;
        const double sine = std::sqrt(1 - cosine * cosine);
        for (int j = 0; j < count; ++j) {
            const double azimuth = 2 * kPi * (j + 0.5) / count;
            const Vec3 direction(sine * std::cos(azimuth), sine * std::sin(azimuth), cosine);
            sum += intensity_umol_s_sr(emitter, flux, direction);
        }
    }
    return sum * 4 * kPi / (count * count);
}

}  // namespace

TEST_CASE("sample points cover a horizontal rectangle uniformly for any shift") {
    const Lamp lamp = lamp_of(LampShape::rectangle, 0.2, 0.1);
    Vec3 mean = Vec3::Zero();
    Vec3 second = Vec3::Zero();
    const int shifts = 64, n = 16;
    for (int a = 0; a < shifts; ++a)
        for (int b = 0; b < shifts; ++b)
            for (const auto& point :
                 emitter_points(lamp, n, (a + 0.5) / shifts, (b + 0.5) / shifts)) {
                const Vec3 off = point.position_m - lamp.centre_m;
                if (std::abs(off.x()) > 0.1 || std::abs(off.y()) > 0.05 || off.z() != 0.0)
                    FAIL("off the face");
                mean += off * point.share / (shifts * shifts);
                second += off.cwiseProduct(off) * point.share / (shifts * shifts);
            }
    CHECK(mean.norm() < 1e-4);
    // Variance of a uniform distribution over a side: side^2 / 12.
    CHECK(second.x() == Approx(0.04 / 12).epsilon(1e-3));
    CHECK(second.y() == Approx(0.01 / 12).epsilon(1e-3));
}

TEST_CASE("sample points cover a disc uniformly by area") {
    const Lamp lamp = lamp_of(LampShape::disc, 0.2, 0.2);
    const int n = 2000;
    int inner = 0;
    Vec3 mean = Vec3::Zero();
    for (const auto& point : emitter_points(lamp, n, 0.3, 0.7)) {
        const Vec3 off = point.position_m - lamp.centre_m;
        CHECK(off.norm() <= 0.1 + 1e-12);
        inner += off.norm() < 0.05 ? 1 : 0;
        mean += off * point.share;
    }
    CHECK(inner == Approx(n / 4.0).epsilon(0).margin(1));
    CHECK(mean.norm() < 1e-4);
}

TEST_CASE("every strip gets one point") {
    const Lamp lamp = lamp_of(LampShape::rectangle, 1.0, 1.0);
    for (const int n : {3, 4, 8, 16}) {
        std::vector<int> along(static_cast<std::size_t>(n), 0);
        for (const auto& point : emitter_points(lamp, n, 0.25, 0.9)) {
            const double x = point.position_m.x() - lamp.centre_m.x() + 0.5;
            ++along[static_cast<std::size_t>(x * n)];
        }
        for (const int hits : along) CHECK(hits == 1);
    }
}

TEST_CASE("tilt and azimuth rotate the face with its axis") {
    Lamp lamp = lamp_of(LampShape::rectangle, 0.3, 0.1);
    lamp.tilt_rad = 0.4;
    lamp.azimuth_rad = 1.1;
    const Emitter emitter = emitter_of(lamp);
    CHECK(emitter.axis.norm() == Approx(1.0));
    CHECK(std::acos(-emitter.axis.z()) == Approx(0.4));
    CHECK(std::atan2(emitter.axis.y(), emitter.axis.x()) == Approx(1.1));
    CHECK(emitter.axis.dot(emitter.half_side_m) == Approx(0.0).epsilon(0).margin(1e-15));
    CHECK(emitter.axis.dot(emitter.half_width_m) == Approx(0.0).epsilon(0).margin(1e-15));
    CHECK(emitter.half_side_m.dot(emitter.half_width_m) == Approx(0.0).epsilon(0).margin(1e-15));
    CHECK(emitter.half_side_m.norm() == Approx(0.15));
    CHECK(emitter.half_width_m.norm() == Approx(0.05));
    CHECK(emitter.half_side_m.z() > 0.0);
    for (const auto& point : emitter_points(lamp, 8, 0.1, 0.2))
        CHECK((point.position_m - lamp.centre_m).dot(emitter.axis) ==
              Approx(0.0).epsilon(0).margin(1e-15));
}

TEST_CASE("a point lamp is one point") {
    const auto points = emitter_points(lamp_of(LampShape::point, 0.0, 0.0), 16, 0.5, 0.5);
    REQUIRE(points.size() == 1);
    CHECK(points[0].position_m == Vec3(0.3, 0.4, 0.8));
    CHECK(points[0].share == 1.0);
}

TEST_CASE("intensity integrates to the flux over all directions") {
    for (const double m : {0.0, 1.0, 2.0, 4.8188, 10.0, 20.5}) {
        CAPTURE(m);
        Lamp lamp = lamp_of(LampShape::point, 0.0, 0.0);
        lamp.beam_exponent = m;
        lamp.tilt_rad = 0.3;
        lamp.azimuth_rad = -2.0;
        CHECK(total_flux(emitter_of(lamp), 450.0) == Approx(450.0).epsilon(3e-3));
    }
}

TEST_CASE("intensity falls to half at the half angle and to zero behind the face") {
    Lamp lamp = lamp_of(LampShape::point, 0.0, 0.0);
    // m = -ln 2 / ln cos 30 deg = 4.818842; a Lambertian beam has half angle 60 deg.
    lamp.beam_exponent = beam_exponent(kPi / 6);
    CHECK(lamp.beam_exponent == Approx(4.818842).epsilon(0).margin(1e-6));
    CHECK(beam_exponent(kPi / 3) == Approx(1.0).epsilon(1e-12));
    const Emitter emitter = emitter_of(lamp);
    const double peak = intensity_umol_s_sr(emitter, 100.0, -Vec3::UnitZ());
    const Vec3 off(std::sin(kPi / 6), 0.0, -std::cos(kPi / 6));
    CHECK(intensity_umol_s_sr(emitter, 100.0, off) == Approx(0.5 * peak).epsilon(1e-12));
    CHECK(intensity_umol_s_sr(emitter, 100.0, Vec3::UnitZ()) == 0.0);
    lamp.beam_exponent = 1.0;
    CHECK(intensity_umol_s_sr(emitter_of(lamp), 100.0, -Vec3::UnitZ()) ==
          Approx(100.0 / kPi).epsilon(1e-14));
}

TEST_CASE("a lamp loses a constant fraction of output each year") {
    Lamp lamp;
    lamp.photon_flux_umol_s = 400.0;
    lamp.output = 0.5;
    lamp.ageing_per_year = 0.1;
    CHECK(photon_flux_umol_s(lamp, 0.0) == 200.0);
    CHECK(photon_flux_umol_s(lamp, 365.25) == Approx(180.0));
    CHECK(photon_flux_umol_s(lamp, 2 * 365.25) == Approx(162.0));
    CHECK(photon_flux_umol_s(lamp, -10.0) == 200.0);
}
