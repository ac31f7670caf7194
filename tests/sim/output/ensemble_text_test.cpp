// An ensemble's flag in words.
#include "sim/output/ensemble_text.h"

#include <catch2/catch.hpp>

using namespace bedshade;

TEST_CASE("a flag of many runs is told with its month, range and runs", "[ensemble]") {
    FlagSpread spread;
    spread.month = {14, 10, 19, 12, 15, 11, 13, 16, std::nullopt, std::nullopt};
    CHECK(month_range_text(spread) == "month 13, between 10 and 19, in 8 of 10 runs");
}

TEST_CASE("no single quantity is said in words", "[ensemble]") {
    Layout layout;
    layout.colonies.emplace_back().name = "A1";
    FlagSpread spread;
    spread.month = {4, 5};
    const std::string text = ensemble_text(layout, {spread}, {"growth"}, {{0.0}, {1.0}});
    CHECK(text.find("'A1'") != std::string::npos);
    CHECK(text.find("no single quantity") != std::string::npos);
}
