// What a run needs in order to continue from a later day than its first: how every colony stands,
// in figures that a keeper could measure or read off a run.
//
// A run that continues comes to the same flags within a step and to sizes within a percent. It does
// not come to the same bits: which shapes light was last traced for, and the days within a 30-day
// mean, are found anew.
#pragma once

#include <array>
#include <cstdint>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "model/reef/layout.h"
#include "model/reef/reef.h"

namespace bedshade {

/// A colony at the beginning of the day that the run continues from, before that day's actions.
struct ColonyCheckpoint {
    ColonyState state;
    /// Neighbours in contact with it, by name, and the day of the run on which that began. Of two
    /// that touch one names the other.
    std::vector<std::pair<std::string, double>> touched_since_d;
    std::string stung_by, overgrown_by;  ///< by name, last; empty: by nobody
    bool by_chemistry = false;           ///< the one that stings it does so without touch
    std::uint32_t raised = 0;            ///< flags, a bit for each kind
    /// Mean of the last 30 days: net carbon, the same with other colonies at day 0, the same
    /// without inhibition. Not known in the first 30 days.
    std::optional<std::array<double, 3>> mean_net_carbon;
    double too_slow_since_d = -1.0, too_fast_since_d = -1.0;  ///< in such flow; negative: is not
    std::optional<Vec3> placed_m;  ///< where its keeper put it last, if it walks
};

struct Checkpoint {
    double day_d = 0.0;      ///< after the run's start
    std::uint64_t seed = 1;  ///< of the run that it was taken from
    int member = 0;
    std::vector<std::optional<ColonyCheckpoint>> colonies;  ///< same order as Layout::colonies;
                                                            ///< nothing: it is new on that day
};

/// Contacts of a checkpoint, of those colonies that the layout still holds.
ContactState contacts_of(const Checkpoint& checkpoint, const Layout& layout);
/// A reef as a checkpoint; what watches a run adds what it knows.
Checkpoint checkpoint_of(const Reef& reef, const Layout& layout);

/// The reef on the day that a run begins: as it was set up, or as the checkpoint has it. Without
/// its light.
Reef reef_at_start(const Layout& layout, const Checkpoint* checkpoint);

}  // namespace bedshade
