// What one step found: the reef on a day, its light, carbon, sand and flow. Everything that wants
// to know about a run is a sink of frames.
#pragma once

#include <vector>

#include "model/base/bed_grid.h"
#include "model/contact/infauna.h"
#include "model/light/shade_share.h"
#include "model/reef/layout.h"
#include "model/reef/reef.h"

#include "sim/run/actions.h"
#include "sim/run/fall.h"

namespace bedshade {

/// How much of the sand that falls on a colony comes from one source.
struct SandShare {
    enum class Kind : unsigned char { pump, inhabitant } kind = Kind::pump;
    int source = -1;     ///< index into Layout::pumps or Layout::inhabitants
    double share = 0.0;  ///< [0, 1]
};

struct ColonyObservation {
    double ppfd_mean_umol_m2_s = 0.0;  ///< mean over its live patches, lamps at plateau
    double dli_mol_m2_d = 0.0;         ///< the day's photons on the mean live patch
    double need_dli_mol_m2_d = 0.0;    ///< daily light at which its day's net carbon would be zero
    double need_ppfd_umol_m2_s = 0.0;  ///< the same as plateau light
    double net_carbon = 0.0;           ///< dark-respiration days per day
    double net_others_at_baseline = 0.0;  ///< the same with every other colony at its day-0 outline
    double net_uninhibited = 0.0;         ///< the same without inhibition by strong light
    double flow_speed_m_s = 0.0;
    double deposition_kg_m2_d = 0.0;               ///< sand falling on it, mean of the coming step
    std::vector<ShadeShare> shade_by;              ///< largest first
    std::vector<ShadeShare> shade_since_baseline;  ///< the part gained since day 0, largest first
    std::vector<SandShare> sand_by;                ///< largest first
    int stung_by = -1;                             ///< colony that reaches it and wins; -1: none
    bool by_chemistry = false;                     ///< that one does it without touch
    int overgrown_by = -1;                         ///< colony that grows over it; -1: none
    Irritation irritated_by;                       ///< animals at its base
};

struct BedObservation {
    std::vector<double> ppfd_umol_m2_s;  ///< [y][x], row-major, lamps at plateau
    std::vector<double> shear_stress_Pa;
    std::vector<double> deposition_kg_m2_d;
    std::vector<double> dli_mol_m2_d{};  ///< the day's photons
    std::vector<double>
        net_change_kg_m2_d{};  ///< sand that comes less sand that goes, of a mean day
};

struct Snapshot {
    double day_d = 0.0;   ///< days since the season's start
    double step_d = 0.0;  ///< length of the step that starts here; 0 in the last frame
    Reef reef;
    std::vector<ColonyObservation> colonies;  ///< same order as Layout::colonies
    BedObservation bed;
    std::vector<AppliedAction> applied_actions;  ///< by the keeper on this day, before the look
    std::vector<Fall> falls;                     ///< of loose corals in the step that ends here
};

/// Something that watches a run.
class SnapshotSink {
  public:
    virtual ~SnapshotSink() = default;
    virtual void take(const Snapshot& snapshot) = 0;
};

}  // namespace bedshade
