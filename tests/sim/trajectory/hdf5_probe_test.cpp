// What reading in a process of its own tells.
#include "sim/trajectory/hdf5_probe.h"

#include <catch2/catch.hpp>
#include <chrono>
#include <csignal>
#include <cstdlib>
#include <ctime>
#include <stdexcept>
#include <unistd.h>

#include "sim/trajectory/hdf5_reader.h"

using namespace bedshade;

TEST_CASE("a crash while reading is reported as damage") {
    int here = 0;
    for (const int signal : {SIGSEGV, SIGABRT, SIGBUS}) {
        const auto read = [&] {
            ++here;
            std::raise(signal);
        };
        CHECK_THROWS_AS(read_apart_first(read), Mismatch);
    }
    CHECK(here == 0);
}

TEST_CASE("errors and results of the probe are left to the real reading") {
    CHECK_NOTHROW(read_apart_first([] {}));
    CHECK_NOTHROW(read_apart_first([] { throw std::runtime_error("it is no number"); }));
}

TEST_CASE("a probe that deadlocks is ended, and the file is not called damaged") {
    const auto sleep = [] { ::pause(); };
    CHECK_NOTHROW(read_apart_first(sleep, std::chrono::milliseconds(50)));
}

TEST_CASE("a computing probe may take longer than a sleeping one") {
    const auto compute_and_fail = [] {
        while (std::clock() < CLOCKS_PER_SEC) {
        }
        std::abort();
    };
    CHECK_THROWS_AS(read_apart_first(compute_and_fail, std::chrono::milliseconds(300)), Mismatch);
}
