// Results of runs as JSON for the cache; they read back bit for bit.
#pragma once

#include <nlohmann/json_fwd.hpp>
#include <string>
#include <vector>

#include "sim/advice/result_cache.h"
#include "sim/advice/run_score.h"

namespace bedshade {

nlohmann::ordered_json json_of(const Score& score);
Score score_of(const nlohmann::ordered_json& json);

nlohmann::ordered_json json_of_numbers(const std::vector<double>& values);
std::vector<double> numbers_from_json(const nlohmann::ordered_json& json);

/// The name of a run in the cache: where its colonies stand, and which member it is.
std::string run_name(const Layout& layout, const RunOptions& options);

/// run_score, from the cache where it is there; tells `go_on` that the run is over.
Score recalled_score(ResultCache& cache, const Layout& layout, const RunOptions& options,
                     const ParallelFor& parallel, const GoOn& go_on);

}  // namespace bedshade
