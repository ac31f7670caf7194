// A run made only for its flags and margins: no file, no summary, as placing, trimming, arranging
// and batches want it by the hundred.
#pragma once

#include <vector>

#include "sim/verdict/margins.h"
#include "sim/verdict/run_means.h"
#include "sim/verdict/run_record.h"

namespace bedshade {

struct EvaluatedRun : RunRecord {
    std::vector<Margins> margins;       ///< by colony
    std::vector<ColonyMeans> colonies;  ///< means and ends, by colony
};

/// Runs a layout to its horizon. `also` take every frame too.
EvaluatedRun evaluate_run(const Layout& layout, const RunOptions& options,
                          const ParallelFor& parallel, const GoOn& go_on,
                          const std::vector<SnapshotSink*>& also = {});

/// The same for the member that `options` names: what is drawn of its figures, by the same seed.
EvaluatedRun evaluate_member(const Layout& layout, RunOptions options, const ParallelFor& parallel,
                             const GoOn& go_on, const std::vector<SnapshotSink*>& also = {});

}  // namespace bedshade
