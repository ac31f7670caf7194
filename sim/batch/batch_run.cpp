#include "sim/batch/batch_run.h"

#include <algorithm>
#include <atomic>
#include <chrono>
#include <fmt/format.h>
#include <mutex>
#include <new>
#include <thread>

#include "sim/base/model_version.h"
#include "sim/base/pool.h"
#include "sim/base/text.h"
#include "sim/batch/keep_runs.h"
#include "sim/batch/run_one.h"

namespace bedshade {
namespace {

using Clock = std::chrono::steady_clock;

double seconds_since(Clock::time_point start) {
    return std::chrono::duration<double>(Clock::now() - start).count();
}

/// Diagnostics as one line, without the places they stand at: those are other on every machine.
std::string message_of(const InputError& error) {
    std::string message;
    for (const Diagnostic& each : error.diagnostics()) {
        if (each.level != Diagnostic::Level::error) continue;
        message += fmt::format("{}{}", message.empty() ? "" : "; ", each.what);
    }
    constexpr std::size_t kLongest = 500;
    if (message.size() > kLongest)
        message.resize(valid_utf8_length(std::string_view(message).substr(0, kLongest)));
    return message;
}

class Pass {
  public:
    Pass(Plan& plan, BatchFolder& folder, const BatchOptions& options,
         const std::function<bool()>& go_on,
         const std::function<void(const BatchTally&)>& print_message, BatchTally& tally)
        : plan_(plan),
          folder_(folder),
          options_(options),
          go_on_(go_on),
          report_(print_message),
          tally_(tally),
          next_(options.shard.index - 1) {
        tally_.found = 0;
    }

    /// Goes through all runs of the shard; returns how many another process is at.
    std::uint64_t run(Pool& pool) {
        const auto workers = static_cast<std::size_t>(options_.jobs);
        pool.parallel_for()(workers, [&](std::size_t begin, std::size_t end) {
            for (std::size_t worker = begin; worker < end; ++worker) work();
        });
        return elsewhere_;
    }

  private:
    void work() {
        try {
            while (going()) {
                const std::uint64_t number = next_.fetch_add(options_.shard.count);
                if (number >= plan_.runs()) return;
                record(number);
            }
        } catch (...) {
            broken_ = true;
            throw;
        }
    }

    bool going() const { return !broken_ && go_on_(); }

    void record(std::uint64_t number) {
        const PlannedRun planned = plan_.run(number);
        const std::string key = plan_.key(planned);
        switch (folder_.take(key)) {
            case BatchFolder::Claim::mine:
                apply_actions(number, planned, key);
                break;
            case BatchFolder::Claim::elsewhere:
                ++elsewhere_;
                break;
            default:
                note([](BatchTally& tally) { ++tally.found; });
        }
    }

    void apply_actions(std::uint64_t number, const PlannedRun& planned, const std::string& key) {
        const auto start = Clock::now();
        RunCost cost{number};
        auto row = row_of(planned, key, cost);
        if (!row) return;  // stopped
        row->key = key;
        row->program = std::string{kProgramVersion};
        row->model = std::string{kModelVersion};
        row->layout = plan_.layout_name(planned);
        row->settings = planned.settings;
        cost.wall_s = seconds_since(start);
        folder_.record(*row, cost);
        note([&](BatchTally& tally) { count(*row, tally); });
    }

    std::optional<BatchRow> row_of(const PlannedRun& planned, const std::string& key,
                                   RunCost& cost) {
        const Study& study = plan_.study();
        BatchRow row;
        row.seed = study.seed;
        row.members = study.members;
        row.months = study.months.value_or(0);
        try {
            RunTask task{plan_.layout(planned), study.seed, study.members, {}, {}};
            if (options_.keep == Keep::all || options_.keep == Keep::flagged)
                task.trajectory = folder_.run_file(key);
            task.keep = [&](const BatchRow& found) {
                return options_.keep == Keep::all || found.members_flagged > 0;
            };
            const auto start = Clock::now();
            auto found = run_one(task, [&](double) { return going(); });
            cost.model_s = seconds_since(start);
            return found;
        } catch (const InputError& error) {
            row.outcome = RunOutcome::refused;
            row.message = message_of(error);
        } catch (const std::bad_alloc&) {
            row.outcome = RunOutcome::failed;
            row.message = std::string{"out of memory"};
        } catch (const std::exception& error) {
            row.outcome = RunOutcome::failed;
            row.message = std::string{error.what()};
        }
        return row;
    }

    static void count(const BatchRow& row, BatchTally& tally) {
        if (row.outcome == RunOutcome::done) ++tally.done;
        if (row.outcome == RunOutcome::refused) ++tally.refused;
        if (row.outcome == RunOutcome::failed) ++tally.failed;
        if (row.members_flagged > 0) ++tally.flagged;
        if (row.outcome != RunOutcome::done && tally.failures.size() < kMostFailuresListed)
            tally.failures.push_back({run_words(row.layout, row.settings), row.message});
    }

    template <class Change>
    void note(const Change& change) {
        const std::lock_guard lock(mutex_);
        change(tally_);
        report_(tally_);
    }

    Plan& plan_;
    BatchFolder& folder_;
    const BatchOptions& options_;
    const std::function<bool()>& go_on_;
    const std::function<void(const BatchTally&)>& report_;
    std::mutex mutex_;
    BatchTally& tally_;
    std::atomic<std::uint64_t> next_, elsewhere_{0};
    std::atomic<bool> broken_{false};
};

/// Waits a little, as long as it may.
void pause(const std::function<bool()>& go_on) {
    using namespace std::chrono_literals;
    for (int i = 0; i < 5 && go_on(); ++i) std::this_thread::sleep_for(100ms);
}

}  // namespace

std::string run_words(const std::string& layout,
                      const std::vector<std::pair<std::string, std::string>>& settings) {
    std::string words = layout;
    for (const auto& [name, value] : settings) words += fmt::format(", {} = {}", name, value);
    return words;
}

BatchTally run_batch(Plan& plan, BatchFolder& folder, const BatchOptions& options,
                     const std::function<bool()>& go_on,
                     const std::function<void(const BatchTally&)>& print_message) {
    BatchTally tally;
    tally.runs = options.shard.runs_of(plan.runs());
    const PlanFacts facts{plan.fingerprint(), plan.study().title, plan.runs(), options.shard};
    folder.note_begun(facts);
    Pool pool(options.jobs);
    bool waiting = true;
    int passes = 0;
    for (; waiting && go_on(); ++passes) {
        waiting = Pass(plan, folder, options, go_on, print_message, tally).run(pool) > 0;
        if (waiting) pause(go_on);
        if (waiting) folder.refresh();
    }
    // Later passes find again what the first ones did.
    if (passes > 1) tally.found -= std::min(tally.found, tally.done + tally.refused + tally.failed);
    tally.finished = !waiting && go_on();
    if (tally.finished) folder.note_finished(facts);
    if (tally.finished) tally.finished = keep_runs(plan, folder, options, pool, go_on);
    return tally;
}

}  // namespace bedshade
