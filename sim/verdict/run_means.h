// Means over the days of a run, and its final state.
#pragma once

#include <vector>

#include "sim/run/snapshot.h"

namespace bedshade {

/// One colony over the days it was there, weighted by the length of each step.
struct ColonyMeans {
    double days = 0.0;                ///< it was in the tank; all means are 0 when it never was
    double dli_mol_m2_d = 0.0;        ///< mean
    double flow_speed_m_s = 0.0;      ///< mean
    double deposition_kg_m2_d = 0.0;  ///< mean
    double most_sand_kg_m2 = 0.0;     ///< that ever lay on it
    double end_diameter_m = 0.0;
    double end_live_fraction = 0.0;

    bool operator==(const ColonyMeans&) const = default;
};

/// The bed cell by cell, [y][x]: means over the season.
struct BedMeans {
    std::vector<double> ppfd_umol_m2_s, shear_stress_Pa, deposition_kg_m2_d;
    std::vector<double> net_change_kg_m2_d;  ///< sand come less sand gone

    bool operator==(const BedMeans&) const = default;
};

class RunMeans final : public SnapshotSink {
  public:
    void take(const Snapshot& snapshot) override;

    /// By colony, in the layout's order.
    const std::vector<ColonyMeans>& colonies() const { return colonies_; }
    const BedMeans& bed() const { return bed_; }

  private:
    void note_colony(const Snapshot& snapshot, std::size_t colony);

    double days_ = 0.0;
    std::vector<ColonyMeans> colonies_;
    BedMeans bed_;
};

}  // namespace bedshade
