// The folder of a batch: which runs are done, which process runs which, and their results.
//
//   batch.json            identifies the folder
//   results-0001.jsonl    a line a run; one file a process, locked while it lives
//   journal-0001.jsonl    the same process's log: when, where, how long, how much memory
//   claims                who has taken which run; worthless once nobody works here
//   plans.jsonl           what was begun and what was finished
//   runs/KEY.h5           trajectories of the kept runs
//
// A process that is killed loses the runs it was at: its file's lock is gone, so its claims no
// longer hold, and the next process takes over its files. Lines are synced to disk.
#pragma once

#include <array>
#include <cstdint>
#include <filesystem>
#include <map>
#include <memory>
#include <mutex>
#include <optional>
#include <string>
#include <unordered_map>

#include "sim/base/line_file.h"
#include "sim/batch/batch_row.h"
#include "sim/batch/shard.h"

namespace bedshade {

/// Which plan, and which part of it, a process works on.
struct PlanFacts {
    std::string fingerprint, title;
    std::uint64_t runs = 0;
    Shard shard;
};

/// A line of plans.jsonl.
std::string plan_line(const PlanFacts& plan, const char* state);

/// What a run took.
struct RunCost {
    std::uint64_t number = 0;  ///< of the plan
    double wall_s = 0.0;       ///< from reading its layout on
    double model_s = 0.0;      ///< of that, in the model
};

class BatchFolder {
  public:
    /// Creates or opens the folder. Throws OutputError if that fails or it has other content.
    explicit BatchFolder(const std::filesystem::path& folder);
    ~BatchFolder();

    enum class Claim {
        mine,       ///< to be run now
        taken,      ///< this process has it, or had it, already
        done,       ///< its result is here
        refused,    ///< its result is here: it cannot be run
        elsewhere,  ///< another living process is at it
    };
    /// May be used by several threads at once, like the rest.
    Claim take(const std::string& key);
    /// Reads what other processes have finished meanwhile.
    void refresh();

    /// Records the result of a run; returns once it is on disk. Throws std::runtime_error.
    void record(const BatchRow& row, const RunCost& cost);

    void note_begun(const PlanFacts& plan) { note_plan(plan, "begun"); }
    void note_finished(const PlanFacts& plan) { note_plan(plan, "finished"); }

    const std::filesystem::path& path() const { return folder_; }
    /// Path of a run's trajectory; creates its folder.
    std::filesystem::path run_file(const std::string& key);

  private:
    struct Key {
        std::array<std::uint64_t, 2> half;
        bool operator==(const Key&) const = default;
    };
    struct KeyHash {
        std::size_t operator()(const Key& key) const { return key.half[0]; }
    };
    static Key packed(std::string_view key);

    std::filesystem::path file(const char* kind, int number) const;
    void open_own_files();
    bool others_live() const;
    bool lives(int number) const;
    void read_results(int number);
    void read_claims();
    void note_plan(const PlanFacts& plan, const char* state);

    std::filesystem::path folder_;
    mutable std::mutex mutex_;
    int number_ = 0;
    std::unique_ptr<LineFile> claims_, results_, journal_;
    std::uint64_t claims_read_ = 0;
    std::map<int, std::uint64_t> results_read_;
    /// Numbers of the processes that have claimed, or kDone, kRefused.
    std::unordered_map<Key, int, KeyHash> state_;
};

/// Whether a folder is one of these.
bool is_batch_folder(const std::filesystem::path& folder);

/// Lines of results in a folder that are not of failed runs; writes nothing.
std::uint64_t finished_runs(const std::filesystem::path& folder);

/// Files of results in a folder, in order.
std::vector<std::filesystem::path> result_files(const std::filesystem::path& folder);

}  // namespace bedshade
