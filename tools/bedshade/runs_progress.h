// Progress of many runs together, reported from any thread.
#pragma once

#include <mutex>
#include <string>

#include "sim/verdict/run_record.h"

#include "tools/bedshade/terminal.h"

namespace bedshade {

class RunsProgress {
  public:
    RunsProgress(std::string label, int runs, bool quiet)
        : bar_(std::move(label), quiet), runs_(runs) {}

    /// The callback of one run: gets the fraction done, returns false once interrupted.
    /// Must not outlive the bar.
    GoOn next_run();

  private:
    std::mutex mutex_;
    ProgressBar bar_;
    int runs_;
    double done_ = 0.0;
};

}  // namespace bedshade
