#include "sim/base/pool.h"

#include <algorithm>
#include <boost/asio/post.hpp>
#include <boost/asio/thread_pool.hpp>
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <exception>
#include <filesystem>
#include <fstream>
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

int processors_of_affinity() {
    cpu_set_t allowed;
    CPU_ZERO(&allowed);
    if (sched_getaffinity(0, sizeof(allowed), &allowed) != 0) return 1;
    return CPU_COUNT(&allowed);
}

/// Quota of this process's control groups (version 2), from its own up; 0 where there is none.
int processors_of_groups() {
    std::ifstream groups("/proc/self/cgroup");
    std::string line;
    while (std::getline(groups, line) && line.rfind("0::/", 0) != 0) line.clear();
    if (line.empty()) return 0;
    int least = 0;
    constexpr int kDeepest = 32;
    std::filesystem::path group = line.substr(3);
    for (int depth = 0; depth < kDeepest; ++depth, group = group.parent_path()) {
        std::ifstream file("/sys/fs/cgroup" + group.string() + "/cpu.max");
        std::string quota;
        if (std::getline(file, quota))
            if (const int limit = processors_of_quota(quota); limit > 0)
                least = least == 0 ? limit : std::min(least, limit);
        if (group == group.parent_path()) break;
    }
    return least;
}

/// What Slurm allots to a task; it need not bind the task to them.
int processors_of_task() {
    const char* text = std::getenv("SLURM_CPUS_PER_TASK");
    return text ? std::max(0, std::atoi(text)) : 0;
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

int processors_of_quota(const std::string& cpu_max) {
    double quota = 0.0, period = 0.0;
    if (std::sscanf(cpu_max.c_str(), "%lf %lf", &quota, &period) != 2 || period <= 0.0) return 0;
    return std::max(1, static_cast<int>(std::ceil(std::min(quota / period, 1e6) - 1e-9)));
}

int allotted_processors() {
    int least = processors_of_affinity();
    for (const int limit : {processors_of_groups(), processors_of_task()})
        if (limit > 0) least = std::min(least, limit);
    return std::max(1, least);
}

}  // namespace bedshade
