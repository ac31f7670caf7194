// Writes the requested trajectories of a finished batch that are still missing.
#pragma once

#include <functional>

#include "sim/base/pool.h"
#include "sim/batch/batch_run.h"

namespace bedshade {

/// Runs again what of the shard `options.keep` wants and the folder has no trajectory of. Does
/// nothing where another process is at it. Returns whether it came to its end; throws what a run
/// throws.
bool keep_runs(Plan& plan, BatchFolder& folder, const BatchOptions& options, Pool& pool,
               const std::function<bool()>& go_on);

}  // namespace bedshade
