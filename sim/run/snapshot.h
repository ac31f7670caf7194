// What one step observes: the reef on a day, its light, carbon, sand and flow. Whatever wants to
// know about a run is a sink of snapshots.
#pragma once

#include <vector>

#include "sim/run/colony_observation.h"

namespace bedshade {

struct BedObservation {
    std::vector<double> ppfd_umol_m2_s;  ///< [y][x], row-major, lamps at plateau
    std::vector<double> shear_stress_Pa;
    std::vector<double> deposition_kg_m2_d;
    std::vector<double> dli_mol_m2_d{};        ///< the day's photons
    std::vector<double> net_change_kg_m2_d{};  ///< sand gained less sand lost, of a mean day
};

struct Snapshot {
    double day_d = 0.0;   ///< days since the run's start
    double step_d = 0.0;  ///< length of the step that starts here; 0 in the last snapshot
    Reef reef;
    std::vector<ColonyObservation> colonies;  ///< same order as Layout::colonies
    BedObservation bed;
};

/// Takes the snapshots of a run, in order of time.
class SnapshotSink {
  public:
    virtual ~SnapshotSink() = default;
    virtual void take(const Snapshot& snapshot) = 0;
};

}  // namespace bedshade
