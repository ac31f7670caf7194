#include "sim/season/pool.h"

#include <algorithm>
#include <boost/asio/post.hpp>
#include <boost/asio/thread_pool.hpp>
#include <exception>
#include <latch>
#include <mutex>
#include <sched.h>

namespace bedshade {

struct Pool::Workers {
    explicit Workers(int threads) : pool(static_cast<std::size_t>(threads)) {}
    boost::asio::thread_pool pool;
};

namespace {

/// Ranges per thread: enough that one slow range does not leave the others idle.
constexpr std::size_t kRangesPerThread = 8;

class FirstError {
  public:
    void note() {
        const std::lock_guard lock(mutex_);
        if (!error_) error_ = std::current_exception();
    }
    void rethrow() const {
        if (error_) std::rethrow_exception(error_);
    }

  private:
    std::mutex mutex_;
    std::exception_ptr error_;
};

void run_on(boost::asio::thread_pool& pool, std::size_t ranges, std::size_t count,
            const std::function<void(std::size_t, std::size_t)>& body) {
    std::latch done(static_cast<std::ptrdiff_t>(ranges));
    FirstError error;
    for (std::size_t r = 0; r < ranges; ++r) {
        boost::asio::post(pool, [&, r] {
            try {
                body(count * r / ranges, count * (r + 1) / ranges);
            } catch (...) {
                error.note();
            }
            done.count_down();
        });
    }
    done.wait();
    error.rethrow();
}

}  // namespace

Pool::Pool(int threads) : threads_(std::max(1, threads)) {
    if (threads_ > 1) workers_ = std::make_unique<Workers>(threads_);
}

Pool::~Pool() {
    if (workers_) workers_->pool.join();
}

ParallelFor Pool::parallel_for() {
    if (!workers_) return run_serially;
    return [this](std::size_t count, const std::function<void(std::size_t, std::size_t)>& body) {
        const std::size_t ranges =
            std::min(count, kRangesPerThread * static_cast<std::size_t>(threads_));
        if (ranges > 0) run_on(workers_->pool, ranges, count, body);
    };
}

int allotted_processors() {
    cpu_set_t allowed;
    CPU_ZERO(&allowed);
    if (sched_getaffinity(0, sizeof(allowed), &allowed) != 0) return 1;
    return std::max(1, CPU_COUNT(&allowed));
}

}  // namespace bedshade
