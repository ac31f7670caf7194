// Scenes for the photon counter, and how counts are held to what they should be.
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

/// Standard errors a count may be off by. Of true means 1 in 2800 is farther off (t with 31
/// degrees of freedom); draws are the same each time, so a test that passes once always does.
inline constexpr double kErrors = 4.0;

inline Scene scene_without_reef(const Layout& layout) {
    return monte_carlo::scene_of(layout, Reef{});
}

inline Tally counted(const Scene& scene, const BedGrid& bed, std::uint64_t photons,
                     std::vector<monte_carlo::TallyDisc> discs = {}, int threads = 2) {
    const monte_carlo::PhotonTransport tracer(scene, bed, std::move(discs));
    Pool pool(threads);
    auto tally = tracer.run({photons, 7, 1.0}, pool.parallel_for());
    REQUIRE(tally.has_value());
    return *tally;
}

/// A bed grid of one cell over the whole floor.
inline BedGrid one_cell(const Tank& tank) { return {1, 1, tank.length_m, tank.width_m}; }

/// Holds `part` of `all` photons to an expected share.
inline void check_share(std::uint64_t part, std::uint64_t all, double share) {
    const auto n = static_cast<double>(all);
    const double error = std::sqrt(share * (1.0 - share) / n);
    CAPTURE(part, all, share, error);
    CHECK(std::abs(static_cast<double>(part) / n - share) < kErrors * error);
}

/// Holds light at many places to what is expected there, and the stated errors to the scatter seen.
class Verdict {
  public:
    void note(const monte_carlo::LightEstimate& found, double expected_umol_m2_s) {
        REQUIRE(found.stderr_umol_m2_s > 0.0);
        const double off = (found.ppfd_umol_m2_s - expected_umol_m2_s) / found.stderr_umol_m2_s;
        CAPTURE(found.ppfd_umol_m2_s, expected_umol_m2_s, found.stderr_umol_m2_s);
        CHECK(std::abs(off) < kErrors);
        squares_ += off * off;
        ++count_;
    }
    /// Mean square of the deviations in standard errors: about 1 if the errors are honest.
    double mean_square() const { return squares_ / count_; }

  private:
    double squares_ = 0.0;
    int count_ = 0;
};

/// A lamp whose whole light goes along its axis, to within 1e-4 rad or so.
inline Lamp pencil_at(const Vec3& centre_m, double tilt_rad, double azimuth_rad) {
    Lamp lamp = lamp_at(centre_m, LampShape::point, 0.0, 100.0);
    lamp.beam_exponent = 1e8;
    lamp.tilt_rad = tilt_rad;
    lamp.azimuth_rad = azimuth_rad;
    return lamp;
}

}  // namespace bedshade::test
