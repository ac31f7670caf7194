#include "sim/advice/run_budget.h"

#include <numeric>
#include <utility>

namespace bedshade {

RunBudget::RunBudget(double most, ParallelFor parallel, GoOn go_on, ResultCache* cache)
    : most_(most), parallel_(std::move(parallel)), go_on_(std::move(go_on)), cache_(cache) {}

void RunBudget::run(std::size_t count, const Piece& piece) { run_with(parallel_, count, piece); }

void RunBudget::run_alone(const Piece& piece) { run_with(run_serially, 1, piece); }

void RunBudget::run_with(const ParallelFor& parallel, std::size_t count, const Piece& piece) {
    std::vector<double> shares(count, 0.0);
    in_progress_ = 0.0;
    parallel(count, [&](std::size_t begin, std::size_t end) {
        for (std::size_t i = begin; i < end && !stopped(); ++i)
            piece(i, [&, i](double share) { return print_message(shares, i, share); });
    });
    done_ = std::accumulate(shares.begin(), shares.end(), done_);
}

bool RunBudget::print_message(std::vector<double>& shares, std::size_t i, double share) {
    const std::lock_guard lock(mutex_);
    in_progress_ += share - shares[i];
    shares[i] = share;
    if (!go_on_(done_ + in_progress_)) stopped_ = true;
    return !stopped();
}

}  // namespace bedshade
