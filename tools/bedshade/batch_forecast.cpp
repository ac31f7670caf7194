#include "tools/bedshade/batch_forecast.h"

#include <algorithm>
#include <chrono>
#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include "sim/base/plain_text.h"
#include "sim/base/text.h"
#include "sim/batch/run_one.h"
#include "sim/input/text/diagnostic.h"

#include "tools/bedshade/interrupt.h"

namespace bedshade {
namespace {

/// A stored row and its line in the journal, in addition to the row itself.
constexpr double kJournalBytes = 300.0;

/// Tries the runs in order until one succeeds; returns its time.
void try_one(Plan& plan, BatchForecast& estimate) {
    constexpr std::uint64_t kMostTried = 20;
    for (std::uint64_t i = 0; i < std::min(kMostTried, plan.runs()); ++i) {
        const PlannedRun planned = plan.run(i);
        try {
            const Study& study = plan.study();
            const RunTask task{plan.layout(planned), study.seed, 1, {}, {}};
            const auto go_on = [](double) { return !interrupted(); };
            // The first one also solves the flow, which the others find solved.
            if (!run_one(task, go_on)) return;
            const auto start = std::chrono::steady_clock::now();
            auto row = run_one(task, go_on);
            if (!row) return;
            const std::chrono::duration<double> took = std::chrono::steady_clock::now() - start;
            row->key = plan.key(planned);
            row->settings = planned.settings;
            estimate.run_s = took.count() * study.members;
            estimate.first = run_words(plan.layout_name(planned), planned.settings);
            estimate.results_MB = 1e-6 * static_cast<double>(estimate.shard_runs) *
                                  (kJournalBytes + static_cast<double>(row_json(*row).size()));
            return;
        } catch (const InputError&) {
            continue;
        }
    }
}

std::string duration_text(double seconds) {
    if (seconds < 120.0) return fmt::format("{:.0f} s", seconds);
    if (seconds < 7200.0) return fmt::format("{:.0f} min", seconds / 60.0);
    return fmt::format("{:.1f} h", seconds / 3600.0);
}

}  // namespace

BatchForecast forecast_batch(Plan& plan, const BatchOptions& options,
                             const std::optional<std::string>& folder) {
    BatchForecast estimate;
    estimate.runs = plan.runs();
    estimate.shard_runs = options.shard.runs_of(plan.runs());
    estimate.members = plan.study().members;
    estimate.jobs = options.jobs;
    if (folder && is_batch_folder(*folder)) estimate.here = finished_runs(*folder);
    try_one(plan, estimate);
    if (estimate.run_s)
        estimate.total_s =
            *estimate.run_s * static_cast<double>(estimate.shard_runs) / estimate.jobs;
    return estimate;
}

std::string batch_forecast_text(const BatchForecast& estimate) {
    std::string text = fmt::format("{} run{}", estimate.runs, estimate.runs == 1 ? "" : "s");
    if (estimate.members > 1) text += fmt::format(" of {} members each", estimate.members);
    if (estimate.shard_runs != estimate.runs)
        text += fmt::format(", {} of them in this shard", estimate.shard_runs);
    if (estimate.here > 0) text += fmt::format("; the folder has {} results", estimate.here);
    text += '\n';
    if (!estimate.run_s)
        return text + "None of the first ones could be run: the time is unknown.\n";
    text += fmt::format("One of them ({}) took {:.2g} s, without solving its flow.\n",
                        escape_control(estimate.first), *estimate.run_s);
    text += fmt::format(
        "All of them: about {} with {} at a time, and for every new setting of pumps or rock a few "
        "seconds more.\n",
        duration_text(estimate.total_s), estimate.jobs);
    text += fmt::format("On disk: about {:.3g} MB, plus the runs kept with --keep.\n",
                        estimate.results_MB);
    return text + "Nothing was written.\n";
}

std::string batch_forecast_json(const BatchForecast& estimate) {
    const nlohmann::ordered_json document = {
        {"format", 1},
        {"runs", estimate.runs},
        {"shard_runs", estimate.shard_runs},
        {"here", estimate.here},
        {"members", estimate.members},
        {"jobs", estimate.jobs},
        {"run_s", estimate.run_s ? nlohmann::ordered_json(*estimate.run_s) : nullptr},
        {"total_s", estimate.total_s},
        {"results_MB", estimate.results_MB}};
    return json_text(document);
}

}  // namespace bedshade
