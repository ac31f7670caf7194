// The trajectory file as it is before its first snapshot: attributes, scales, facts of the run, and
// the empty datasets that snapshots go into.
#pragma once

#include <H5Cpp.h>
#include <vector>

#include "model/base/bed_grid.h"
#include "model/reef/layout.h"

#include "sim/trajectory/run_provenance.h"
#include "sim/trajectory/snapshot_series.h"

namespace bedshade {

/// Where snapshots go. `values` has the order of kColonyQuantities.
struct TrajectorySeries {
    H5::DataSet time;  ///< [time]
    SnapshotSeries present, stage, position, outline, shade_by;
    std::vector<SnapshotSeries> figures;
    SnapshotSeries bed_ppfd, bed_shear_stress, bed_deposition;
    SnapshotSeries written;  ///< 1 where a member's snapshot is in the file

    /// All of them but the time, `written` last.
    std::vector<SnapshotSeries*> all();
};

/// Writes everything that is known before the run and returns the datasets to grow.
TrajectorySeries create_trajectory(H5::H5File& file, const Layout& layout, const BedGrid& bed,
                                   const RunProvenance& facts, const FlowSample* flow);

}  // namespace bedshade
