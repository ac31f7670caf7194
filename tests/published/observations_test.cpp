// The page of observations: what it says is what the program does, and its disagreements are
// reported.
#include "tests/observations/observations.h"

#include <catch2/catch.hpp>
#include <cmath>
#include <fstream>
#include <iterator>

using namespace bedshade::test;

TEST_CASE("the page of observations is what the program writes", "[published]") {
    std::ifstream file(BEDSHADE_SOURCE_DIR "/notebooks-free-docs/observations.md");
    const std::string page{std::istreambuf_iterator<char>(file), {}};
    CHECK(page == observations_page());
}

TEST_CASE("37 of 42 observations agree, and each of the others has a remark", "[published]") {
    int agreeing = 0;
    for (const Observation& seen : observations()) {
        INFO(seen.what << ": " << seen.model << " " << seen.unit);
        CHECK(std::isfinite(seen.model));
        CHECK(seen.low < seen.high);
        if (seen.agrees())
            ++agreeing;
        else
            CHECK_FALSE(seen.remark.empty());
    }
    CHECK(agreeing == 37);
    CHECK(observations().size() == 42);
    for (const LeftOut& left : left_out()) CHECK_FALSE(left.why.empty());
}
