// Monte Carlo photon transport: traces single photons forward from the lamps and tallies where they
// land.
//
// An analog (unweighted) Monte Carlo estimate, slow and simple, to verify the light field. It
// shares the description of tank and materials with the light field, but no light transport code.
// Each photon is sampled from a lamp, refracted or reflected at the surface, reflected or
// transmitted by the panes, scattered or absorbed by bodies, and absorbed by the water after a path
// length sampled from Beer's law.
#pragma once

#include <functional>
#include <optional>
#include <vector>

#include "model/base/parallel.h"
#include "model/monte_carlo/photon_history.h"

namespace bedshade::monte_carlo {

struct PhotonCount {
    std::uint64_t photons = 2'000'000;  ///< at least; rounded up to whole batches of every lamp
    std::uint64_t seed = 1;
    double output_scale = 1.0;  ///< multiplies every lamp (from meter readings)
};

class PhotonTransport {
  public:
    /// Number of batches; the variance between batches gives the standard errors.
    static constexpr int kBatches = 32;

    /// `bed` covers the whole floor of the tank. Only the part of a sensor inside the glass counts
    /// as its area.
    PhotonTransport(Scene scene, const BedGrid& bed, std::vector<TallyDisc> sensors);
    PhotonTransport(const PhotonTransport&) = delete;
    PhotonTransport& operator=(const PhotonTransport&) = delete;

    /// Traces the photons; lamps on day 0 at their plateau. `on_progress` gets the fraction done
    /// from time to time and cancels the run by returning false; then there is no result. The
    /// result depends on scene and `count` only, not on how `parallel` divides the work.
    std::optional<Tally> run(
        const PhotonCount& count, const ParallelFor& parallel = run_serially,
        const std::function<bool(double)>& on_progress = [](double) { return true; }) const;

    /// Index of a bed cell and of a sensor in the tally.
    std::size_t bed_place(int i, int j) const { return bed_.index(i, j); }
    std::size_t sensor_place(std::size_t sensor) const { return bed_.size() + sensor; }

  private:
    struct Plan;

    Plan plan(const PhotonCount& count) const;
    void trace_block(const Plan& plan, std::size_t block, std::uint32_t batch,
                     BatchTally& tally) const;
    std::vector<double> areas_m2() const;

    Scene scene_;
    BedGrid bed_;
    std::vector<TallyDisc> sensors_;
    OpticsByBand optics_;
    Obstacles obstacles_;
    std::vector<LampSource> sources_;
};

}  // namespace bedshade::monte_carlo
