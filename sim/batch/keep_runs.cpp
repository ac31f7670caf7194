#include "sim/batch/keep_runs.h"

#include <algorithm>
#include <atomic>
#include <tuple>
#include <unordered_map>

#include "sim/batch/ranking.h"
#include "sim/batch/run_one.h"

namespace bedshade {
namespace {

struct Candidate {
    std::uint64_t number = 0;
    std::string key;
    double score = 0.0;
};

/// Scores of the finished runs; with Keep::flagged only of those with a flag.
std::unordered_map<std::string, double> scores_in(const std::filesystem::path& folder, Keep keep) {
    std::unordered_map<std::string, double> scores;
    for (const auto& file : result_files(folder))
        read_lines(file, [&](std::string_view line) {
            const auto row = row_from_json(line);
            if (!row || row->outcome != RunOutcome::done) return;
            if (keep == Keep::flagged && row->members_flagged == 0) return;
            scores[row->key] = score_of(*row, {});
        });
    return scores;
}

std::vector<Candidate> wanted(Plan& plan, const BatchFolder& folder, const BatchOptions& options) {
    auto scores = scores_in(folder.path(), options.keep);
    std::vector<Candidate> candidates;
    for (std::uint64_t number = options.shard.index - 1; number < plan.runs();
         number += options.shard.count) {
        std::string key = plan.key(plan.run(number));
        const auto found = scores.find(key);
        if (found == scores.end()) continue;
        candidates.push_back({number, std::move(key), found->second});
        scores.erase(found);  // a run that is twice in the plan is stored once
    }
    if (options.keep != Keep::top || candidates.size() <= options.top) return candidates;
    std::sort(candidates.begin(), candidates.end(), [](const Candidate& a, const Candidate& b) {
        return std::tie(b.score, a.key) < std::tie(a.score, b.key);
    });
    candidates.resize(options.top);
    return candidates;
}

void keep_one(Plan& plan, BatchFolder& folder, const Candidate& candidate,
              const std::function<bool(double)>& go_on) {
    const auto file = folder.run_file(candidate.key);
    if (std::filesystem::exists(file)) return;
    const Study& study = plan.study();
    const RunTask task{plan.layout(plan.run(candidate.number)), study.seed, 1, file,
                       [](const BatchRow&) { return true; }};
    run_one(task, go_on);
}

}  // namespace

bool keep_runs(Plan& plan, BatchFolder& folder, const BatchOptions& options, Pool& pool,
               const std::function<bool()>& go_on) {
    if (options.keep == Keep::none) return true;
    LineFile turn(folder.path() / "keeping");
    if (!turn.lock_now()) return true;
    const auto candidates = wanted(plan, folder, options);
    std::atomic<std::size_t> next{0};
    pool.parallel_for()(static_cast<std::size_t>(options.jobs), [&](std::size_t, std::size_t) {
        for (std::size_t at; (at = next++) < candidates.size() && go_on();)
            keep_one(plan, folder, candidates[at], [&](double) { return go_on(); });
    });
    return go_on();
}

}  // namespace bedshade
