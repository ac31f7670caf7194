// What came of runs as the cache keeps it: read back, it is the same to the last bit.
#pragma once

#include <nlohmann/json_fwd.hpp>
#include <string>
#include <vector>

#include "sim/advice/result_cache.h"
#include "sim/advice/run_score.h"
#include "sim/trim/trim_runs.h"

namespace bedshade {

/// Without its trouble, which is a judgement on its flags.
nlohmann::ordered_json json_of(const TrimRun& run);
TrimRun trim_run_of(const nlohmann::ordered_json& json);

nlohmann::ordered_json json_of(const Score& score);
Score score_of(const nlohmann::ordered_json& json);

nlohmann::ordered_json json_of_numbers(const std::vector<double>& figures);
std::vector<double> numbers_from_json(const nlohmann::ordered_json& json);

/// What a run of a layout is called: where its colonies stand, and which member it is.
std::string run_name(const Layout& layout, const ForecastOptions& options);

/// run_score, from the cache where it is known; tells `go_on` that the run is over.
Score recalled_score(ResultCache& cache, const Layout& layout, const ForecastOptions& options,
                     const ParallelFor& parallel, const GoOn& go_on);

}  // namespace bedshade
