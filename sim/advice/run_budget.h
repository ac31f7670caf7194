// Many forecasts side by side for one piece of advice: counted, bounded, and stopped when asked.
#pragma once

#include <atomic>
#include <cstddef>
#include <functional>
#include <mutex>
#include <vector>

#include "model/base/parallel.h"

#include "sim/advice/result_cache.h"

namespace bedshade {

class RunBudget {
  public:
    /// At most `most` forecasts' work; `parallel` runs forecasts side by side, each on one thread.
    /// `go_on` is asked and told from any thread, one at a time: the work done so far.
    /// What `cache` knows costs what it cost when it was run, so that results do not depend on it;
    /// it must outlive this, and is by default one in memory.
    RunBudget(double most, ParallelFor parallel, GoOn go_on, ResultCache* cache = nullptr);

    /// One piece of work. It calls `go_on` with the share of its forecast that is done and ends
    /// when that says no.
    using Piece = std::function<void(std::size_t i, const GoOn& go_on)>;
    /// Runs `count` pieces. What they cost is what they last told, so that a forecast that ends
    /// itself early costs less than one; the sum does not depend on threads.
    void run(std::size_t count, const Piece& piece);
    /// Runs one piece on the calling thread, so that it may use other threads itself.
    void run_alone(const Piece& piece);

    ResultCache& cache() { return cache_ != nullptr ? *cache_ : none_; }

    double most() const { return most_; }
    double done() const { return done_; }
    /// Whether `count` whole forecasts fit, with `reserve` left over.
    bool allows(std::size_t count, double reserve = 0.0) const {
        return !stopped() && done_ + static_cast<double>(count) + reserve <= most_;
    }
    /// Whether it was told to stop: what ran then is not whole.
    bool stopped() const { return stopped_.load(); }

  private:
    void run_with(const ParallelFor& parallel, std::size_t count, const Piece& piece);
    bool print_message(std::vector<double>& shares, std::size_t i, double share);

    double most_, done_ = 0.0;
    double in_progress_ = 0.0;  // of what runs now, by mutex_
    ParallelFor parallel_;
    GoOn go_on_;
    ResultCache* cache_;
    ResultCache none_;
    std::mutex mutex_;
    std::atomic<bool> stopped_ = false;
};

}  // namespace bedshade
