// The one worker pool: every thread the program starts comes from here.
#pragma once

#include <memory>
#include <string>

#include "model/base/parallel.h"

namespace bedshade {

class Pool {
  public:
    /// `threads` workers; 1 runs everything on the calling thread.
    explicit Pool(int threads);
    ~Pool();
    Pool(const Pool&) = delete;
    Pool& operator=(const Pool&) = delete;

    int threads() const { return threads_; }

    /// Work cut into ranges over the pool; see ParallelFor. The first exception a range throws is
    /// thrown again here, after all ranges have ended. Not to be called from inside a range.
    ParallelFor parallel_for();

  private:
    struct Workers;
    int threads_;
    std::unique_ptr<Workers> workers_;
};

/// Processors this process may use, at least 1: the least of its affinity mask, the quota of its
/// control group and SLURM_CPUS_PER_TASK.
int allotted_processors();

/// Processors that a control group's cpu.max ("150000 100000") is worth, rounded up; 0 for "max".
int processors_of_quota(const std::string& cpu_max);

}  // namespace bedshade
