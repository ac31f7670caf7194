// Times of day as layouts write them.
#include "sim/input/text/time_of_day.h"

#include <catch2/catch.hpp>

using namespace bedshade;

TEST_CASE("a time of day is hours and minutes") {
    CHECK(hour_of_day("0:30").value() == Approx(0.5));
    CHECK(hour_of_day("24:00").value() == Approx(24.0));
    for (const char* text : {"24:01", "9:60", "9:5", "-0:30", "1:-0", "+1:00", " 1:00", "1", ""})
        CHECK_FALSE(hour_of_day(text).has_value());
}
