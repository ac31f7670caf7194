// A photon counter: light sent out from the lamps one photon at a time and counted where it lands.
//
// Slow and plain, to check the light field by. It shares with it what the tank is and what its
// materials are, and no code that moves light. Each photon is drawn from a lamp, refracted or
// mirrored at the surface, mirrored or let out by the panes, scattered or absorbed by what it
// meets, and taken by the water after a length drawn from Beer's law.
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
    /// Photons are followed in this many batches, whose scatter gives the standard errors.
    static constexpr int kBatches = 32;

    /// `bed` lies over the tank's whole floor. Of a sensor that reaches beyond the glass only what
    /// lies within counts as its area.
    PhotonTransport(Scene scene, const BedGrid& bed, std::vector<TallyDisc> sensors);
    PhotonTransport(const PhotonTransport&) = delete;
    PhotonTransport& operator=(const PhotonTransport&) = delete;

    /// Follows the photons; lamps on day 0 at their plateau. `go_on` is told the share done now and
    /// then, and stops everything by returning false; then there is no result. The result depends
    /// on scene and `count` alone, not on how `parallel` cuts the work.
    std::optional<Tally> run(
        const PhotonCount& count, const ParallelFor& parallel = run_serially,
        const std::function<bool(double)>& go_on = [](double) { return true; }) const;

    /// Where the tally keeps them.
    std::size_t bed_place(int i, int j) const { return bed_.index(i, j); }
    std::size_t sensor_place(std::size_t sensor) const { return bed_.size() + sensor; }

  private:
    struct Plan;

    Plan plan(const PhotonCount& count) const;
    void follow_block(const Plan& plan, std::size_t block, std::uint32_t batch,
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
