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

/// The name of a run in the cache: positions of its colonies, and its member.
std::string run_name(const Layout& layout, const ForecastOptions& options);

/// run_score, from the cache if known; reports to `go_on` that the run is complete.
Score recalled_score(ResultCache& cache, const Layout& layout, const ForecastOptions& options,
                     const ParallelFor& parallel, const GoOn& go_on);

}  // namespace bedshade
