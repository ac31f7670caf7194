// How far many runs together are, told from any thread.
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

    /// For one run: takes the share of it that is done, and says to go on until interrupted.
    /// Must not outlive the bar.
    GoOn next_run();

  private:
    std::mutex mutex_;
    ProgressBar bar_;
    int runs_;
    double done_ = 0.0;
};

}  // namespace bedshade
