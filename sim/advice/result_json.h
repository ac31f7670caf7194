// Results of runs as JSON for the cache; they read back bit for bit.
#pragma once

#include <nlohmann/json_fwd.hpp>
#include <string>
#include <vector>

#include "sim/advice/result_cache.h"
#include "sim/advice/run_score.h"
#include "sim/trim/trim_runs.h"

namespace bedshade {

/// Without `unprevented`, which is derived from its flags.
nlohmann::ordered_json json_of(const TrimRun& run);
TrimRun trim_run_of(const nlohmann::ordered_json& json);

nlohmann::ordered_json json_of(const Score& score);
Score score_of(const nlohmann::ordered_json& json);

nlohmann::ordered_json json_of_numbers(const std::vector<double>& figures);
std::vector<double> numbers_from_json(const nlohmann::ordered_json& json);

/// What a season of a layout is called: where its colonies stand, and which member it is.
std::string run_name(const Layout& layout, const RunOptions& options);

/// run_score, from the memo where it is known; tells `go_on` that the season is over.
Score recalled_score(ResultCache& cache, const Layout& layout, const RunOptions& options,
                     const ParallelFor& parallel, const GoOn& go_on);

}  // namespace bedshade
