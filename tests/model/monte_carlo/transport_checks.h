// Scenes for photon transport, and checks of Monte Carlo estimates against expected values.
#pragma once

#include <catch2/catch.hpp>
#include <cmath>

#include "model/monte_carlo/photon_transport.h"

#include "sim/base/pool.h"

#include "tests/layouts.h"

namespace bedshade::test {

using monte_carlo::End;
using monte_carlo::Scene;
using monte_carlo::Tally;

/// Largest deviation in standard errors. A correct mean exceeds it once in 2800 (t with 31 degrees
/// of freedom); random numbers are the same each time, so a test that passes once always passes.
inline constexpr double kMaxStandardErrors = 4.0;

inline Scene scene_without_reef(const Layout& layout) {
    return monte_carlo::scene_of(layout, Reef{});
}

inline Tally run_transport(const Scene& scene, const BedGrid& bed, std::uint64_t photons,
                           std::vector<monte_carlo::TallyDisc> discs = {}, int threads = 2) {
    const monte_carlo::PhotonTransport tracer(scene, bed, std::move(discs));
    Pool pool(threads);
    auto tally = tracer.run({photons, 7, 1.0}, pool.parallel_for());
    REQUIRE(tally.has_value());
    return *tally;
}

/// A bed grid of one cell over the whole floor.
inline BedGrid one_cell(const Tank& tank) { return {1, 1, tank.length_m, tank.width_m}; }

/// Checks that `part` of `all` photons agrees with an expected fraction.
inline void check_share(std::uint64_t part, std::uint64_t all, double share) {
    const auto n = static_cast<double>(all);
    const double error = std::sqrt(share * (1.0 - share) / n);
    CAPTURE(part, all, share, error);
    CHECK(std::abs(static_cast<double>(part) / n - share) < kMaxStandardErrors * error);
}

/// Compares estimates at many places with expected values, and the standard errors with the
/// observed scatter.
class DeviationStatistics {
  public:
    void add(const monte_carlo::LightEstimate& found, double expected_umol_m2_s) {
        REQUIRE(found.stderr_umol_m2_s > 0.0);
        const double off = (found.ppfd_umol_m2_s - expected_umol_m2_s) / found.stderr_umol_m2_s;
        CAPTURE(found.ppfd_umol_m2_s, expected_umol_m2_s, found.stderr_umol_m2_s);
        CHECK(std::abs(off) < kMaxStandardErrors);
        squares_ += off * off;
        ++count_;
    }
    /// Mean square of the deviations in standard errors: about 1 if the standard errors are
    /// correct.
    double mean_square() const { return squares_ / count_; }

  private:
    double squares_ = 0.0;
    int count_ = 0;
};

/// A pencil beam: all light goes along the axis, to about 1e-4 rad.
inline Lamp pencil_at(const Vec3& centre_m, double tilt_rad, double azimuth_rad) {
    Lamp lamp = lamp_at(centre_m, LampShape::point, 0.0, 100.0);
    lamp.beam_exponent = 1e8;
    lamp.tilt_rad = tilt_rad;
    lamp.azimuth_rad = azimuth_rad;
    return lamp;
}

}  // namespace bedshade::test
