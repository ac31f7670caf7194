// Which of the runs of a plan are this process's: every N-th one.
#pragma once

#include <cstdint>
#include <functional>
#include <optional>
#include <stdexcept>
#include <string>

namespace bedshade {

/// Part `index` (from 1) of `count`.
struct Shard {
    std::uint64_t index = 1, count = 1;

    bool operator==(const Shard&) const = default;
    bool whole() const { return count == 1; }
    std::uint64_t runs_of(std::uint64_t total) const {
        return total / count + (index <= total % count ? 1 : 0);
    }
};

class ShardError : public std::runtime_error {
  public:
    using std::runtime_error::runtime_error;
};

/// "2/4". Throws ShardError.
Shard parse_shard(const std::string& text);

/// The shard that a cluster's scheduler set in the environment, and by which variables.
struct FoundShard {
    Shard shard;
    std::string from;
};

/// Checks, in this order,
///   BEDSHADE_SHARD_INDEX (from 0) and BEDSHADE_SHARD_COUNT, which HTCondor's submit file sets;
///   SLURM_ARRAY_TASK_ID with _MIN, _STEP and _COUNT;
///   AWS_BATCH_JOB_ARRAY_INDEX (from 0) and AWS_BATCH_JOB_ARRAY_SIZE;
///   JOB_COMPLETION_INDEX (from 0) and JOB_COMPLETION_COUNT, which the manifest sets.
/// `variable` gives the value of one, or nothing. Throws ShardError when there is none, when only
/// half of a pair is set, or when they make no shard.
FoundShard shard_from_environment(
    const std::function<std::optional<std::string>(const char*)>& variable);

}  // namespace bedshade
