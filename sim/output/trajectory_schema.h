// The trajectory file as it is before its first frame: attributes, scales, facts of the run, and
// the empty datasets that frames go into.
#pragma once

#include <H5Cpp.h>
#include <vector>

#include "model/base/bed_grid.h"
#include "model/reef/layout.h"

#include "sim/output/frame_series.h"
#include "sim/output/run_facts.h"

namespace bedshade {

/// Where frames go. `figures` has the order of kColonyFigures.
struct TrajectorySeries {
    H5::DataSet time;  ///< [time]
    FrameSeries present, stage, position, outline, shade_by;
    std::vector<FrameSeries> figures;
    FrameSeries bed_ppfd, bed_shear_stress, bed_fallout;
    FrameSeries written;  ///< 1 where a member's frame is in the file

    /// All of them but the time, `written` last.
    std::vector<FrameSeries*> all();
};

/// Writes everything that is known before the run and returns the datasets to grow.
TrajectorySeries create_trajectory(H5::H5File& file, const Layout& layout, const BedGrid& bed,
                                   const RunFacts& facts, const FlowSample* flow);

}  // namespace bedshade
