// Carrying out a plan: a pool of workers, each at one run at a time.
#pragma once

#include <cstdint>
#include <functional>
#include <string>
#include <vector>

#include "sim/batch/batch_folder.h"
#include "sim/batch/plan.h"

namespace bedshade {

/// Which runs leave a trajectory.
enum class Keep { none, flagged, all, top };

struct BatchOptions {
    int jobs = 1;
    Shard shard;
    Keep keep = Keep::none;
    std::size_t top = 0;  ///< for Keep::top: so many of the shard, by the default score
};

/// A run that came to nothing, and why.
struct RunFailure {
    std::string run, message;
};

struct BatchTally {
    std::uint64_t runs = 0;   ///< of this shard
    std::uint64_t found = 0;  ///< done before, by others, or twice in the plan
    std::uint64_t done = 0, refused = 0, failed = 0;
    std::uint64_t flagged = 0;         ///< of those done now
    std::vector<RunFailure> failures;  ///< the first kMostFailuresListed
    bool finished = false;             ///< not stopped

    std::uint64_t completed() const { return found + done + refused + failed; }
};
inline constexpr std::size_t kMostFailuresListed = 20;

/// Makes the runs that are not done yet. `go_on` is called often, by all workers; `tell` is called
/// after every completed run, one call at a time. If another process works on some of the runs,
/// waits for it, and takes over if it dies. Throws std::runtime_error when the folder cannot be
/// written.
BatchTally run_batch(Plan& plan, BatchFolder& folder, const BatchOptions& options,
                     const std::function<bool()>& go_on,
                     const std::function<void(const BatchTally&)>& print_message);

/// A run in words: "my_tank.toml, pump = 6000 L/h".
std::string run_words(const std::string& layout,
                      const std::vector<std::pair<std::string, std::string>>& settings);

}  // namespace bedshade
