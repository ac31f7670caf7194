// The worker pool, and how many processors a process is given.
#include "sim/base/pool.h"

#include <atomic>
#include <catch2/catch.hpp>
#include <cstdlib>
#include <stdexcept>
#include <vector>

using namespace bedshade;

TEST_CASE("a pool does every piece of work once, for any number of threads", "[threads]") {
    for (const int threads : {1, 2, 3, 8})
        for (const std::size_t count : {0, 1, 7, 64, 1000}) {
            Pool pool(threads);
            std::vector<int> done(count, 0);
            pool.parallel_for()(count, [&](std::size_t begin, std::size_t end) {
                for (std::size_t i = begin; i < end; ++i) ++done[i];
            });
            CHECK(done == std::vector<int>(count, 1));
        }
}

TEST_CASE("an exception in a range is rethrown after all ranges have ended", "[threads]") {
    for (const int threads : {2, 8}) {
        Pool pool(threads);
        std::atomic<int> done = 0;
        const auto body = [&](std::size_t begin, std::size_t end) {
            for (std::size_t i = begin; i < end; ++i) ++done;
            if (begin == 0) throw std::runtime_error("the first range");
        };
        CHECK_THROWS_WITH(pool.parallel_for()(100, body), "the first range");
        CHECK(done == 100);
        done = 0;
        pool.parallel_for()(1, [&](std::size_t, std::size_t) { ++done; });
        CHECK(done == 1);
    }
}

TEST_CASE("a control group's quota is rounded up to whole processors") {
    CHECK(processors_of_quota("max 100000") == 0);
    CHECK(processors_of_quota("100000 100000") == 1);
    CHECK(processors_of_quota("150000 100000") == 2);
    CHECK(processors_of_quota("400000 100000") == 4);
    CHECK(processors_of_quota("5000 100000") == 1);
    CHECK(processors_of_quota("") == 0);
    CHECK(processors_of_quota("1 0") == 0);
}

TEST_CASE("a Slurm task uses its allotted processors, at most those available") {
    const int here = allotted_processors();
    REQUIRE(here >= 1);
    ::setenv("SLURM_CPUS_PER_TASK", "1", 1);
    CHECK(allotted_processors() == 1);
    ::setenv("SLURM_CPUS_PER_TASK", "100000", 1);
    CHECK(allotted_processors() == here);
    ::setenv("SLURM_CPUS_PER_TASK", "some", 1);
    CHECK(allotted_processors() == here);
    ::unsetenv("SLURM_CPUS_PER_TASK");
}
