// How many processors a process is given.
#include "sim/season/pool.h"

#include <catch2/catch.hpp>
#include <cstdlib>

using namespace bedshade;

TEST_CASE("a control group's quota is so many processors, rounded up") {
    CHECK(processors_of_quota("max 100000") == 0);
    CHECK(processors_of_quota("100000 100000") == 1);
    CHECK(processors_of_quota("150000 100000") == 2);
    CHECK(processors_of_quota("400000 100000") == 4);
    CHECK(processors_of_quota("5000 100000") == 1);
    CHECK(processors_of_quota("") == 0);
    CHECK(processors_of_quota("1 0") == 0);
}

TEST_CASE("a Slurm task uses what it was allotted, and no more than there is") {
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
