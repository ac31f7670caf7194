// Runs the forecasts of an advice command in parallel, within a budget, and stops on request.
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
    /// Allows the work of `most` forecasts; `parallel` runs forecasts in parallel, each on one
    /// thread. `go_on` gets the work done so far, from any thread, one call at a time. A cached run
    /// counts the work it took originally, so that results do not depend on the cache; `cache` must
    /// outlive this (default: one in memory).
    RunBudget(double most, ParallelFor parallel, GoOn go_on, ResultCache* cache = nullptr);

    /// One piece of work. It calls `go_on` with the fraction of its forecast that is done, and ends
    /// when that returns false.
    using Piece = std::function<void(std::size_t i, const GoOn& go_on)>;
    /// Runs `count` pieces. Each costs the fraction it reported last, so that a forecast that ends
    /// early costs less than one. The sum does not depend on threads.
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
    /// Whether it was stopped; the last pieces are then incomplete.
    bool stopped() const { return stopped_.load(); }

  private:
    void run_with(const ParallelFor& parallel, std::size_t count, const Piece& piece);
    bool print_message(std::vector<double>& shares, std::size_t i, double share);

    double most_, done_ = 0.0;
    double in_progress_ = 0.0;  // work of the running pieces, guarded by mutex_
    ParallelFor parallel_;
    GoOn go_on_;
    ResultCache* cache_;
    ResultCache none_;
    std::mutex mutex_;
    std::atomic<bool> stopped_ = false;
};

}  // namespace bedshade
