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

TEST_CASE("reading that ends its process is told as damage, and harms nothing here") {
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

TEST_CASE("what reading throws, or finds, is left for reading here to tell") {
    CHECK_NOTHROW(read_apart_first([] {}));
    CHECK_NOTHROW(read_apart_first([] { throw std::runtime_error("it is no number"); }));
}

TEST_CASE(
    "a copy that waits for what nobody gives back is ended, and is not held against the file") {
    const auto sleep = [] { ::pause(); };
    CHECK_NOTHROW(read_apart_first(sleep, std::chrono::milliseconds(50)));
}

TEST_CASE("a copy that computes is waited for longer than one that sleeps") {
    const auto compute_and_fail = [] {
        while (std::clock() < CLOCKS_PER_SEC) {
        }
        std::abort();
    };
    CHECK_THROWS_AS(read_apart_first(compute_and_fail, std::chrono::milliseconds(300)), Mismatch);
}
