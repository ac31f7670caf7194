// What a batch will take, from one run of it.
#pragma once

#include <cstdint>
#include <optional>
#include <string>

#include "sim/batch/batch_run.h"

namespace bedshade {

struct BatchForecast {
    std::uint64_t runs = 0;        ///< of the plan
    std::uint64_t shard_runs = 0;  ///< of this shard
    std::uint64_t here = 0;        ///< results that are in the folder already, of this plan or not
    int members = 1, jobs = 1;
    std::optional<double> run_s;  ///< of the run that was tried; nothing where none could be
    double total_s = 0.0;         ///< of the shard, on so many jobs
    double results_MB = 0.0;      ///< on disk
    std::string first;            ///< the run that was tried, in words
};

/// Runs the first run that can be, and reckons from it. Writes nothing.
BatchForecast forecast_batch(Plan& plan, const BatchOptions& options,
                             const std::optional<std::string>& folder);

std::string batch_forecast_text(const BatchForecast& estimate);
std::string batch_forecast_json(const BatchForecast& estimate);

}  // namespace bedshade
