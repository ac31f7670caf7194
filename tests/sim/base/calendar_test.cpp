// Dates to days and back, and where months begin and end.
#include "sim/base/calendar.h"

#include <catch2/catch.hpp>

using namespace bedshade;

TEST_CASE("dates have the day numbers of the calendar") {
    // ISO 8601 / POSIX: 1970-01-01 is day 0, and 2000-03-01 day 11017 (951868800 s / 86400).
    CHECK(calendar_day(1970, 1, 1)->days_since_1970 == 0);
    CHECK(calendar_day(2000, 3, 1)->days_since_1970 == 11017);
    CHECK(calendar_day(1969, 12, 31)->days_since_1970 == -1);
    CHECK(calendar_day(2000, 2, 29));
    CHECK_FALSE(calendar_day(1900, 2, 29));
    CHECK_FALSE(calendar_day(2027, 6, 31));
    CHECK_FALSE(calendar_day(2027, 13, 1));
    CHECK_FALSE(calendar_day(2027, 0, 1));
    CHECK_FALSE(calendar_day(2027, 1, 0));
    CHECK_FALSE(calendar_day(2027, 1, 257));  // would be 1 in eight bits
    CHECK_FALSE(calendar_day(0, 1, 1));
    CHECK_FALSE(calendar_day(10000, 1, 1));
}

TEST_CASE("dates are read strictly and written back as read") {
    for (const char* text : {"2027-01-01", "2028-02-29", "0001-01-01", "9999-12-31", "1969-07-20"})
        CHECK(to_string(parse_calendar_day(text).value()) == text);
    for (const char* text : {"", "2027-1-01", "2027-01-01 ", " 2027-01-1", "2027/01/01",
                             "2027-02-30", "20x7-01-01", "2027-01--1", "-027-01-01", "+027-01-01"})
        CHECK_FALSE(parse_calendar_day(text));
}

TEST_CASE("days of the run map to calendar days") {
    const CalendarDay start = parse_calendar_day("2027-12-30").value();
    CHECK(date_at(start, 0.0) == "2027-12-30");
    CHECK(date_at(start, 1.99) == "2027-12-31");
    CHECK(date_at(start, 2.0) == "2028-01-01");
    CHECK(date_at(start, 61.0) == "2028-02-29");
    CHECK(date_at(start, -0.5) == "2027-12-29");
    CHECK(days_since(start, parse_calendar_day("2028-01-01").value()) == 2.0);
    CHECK(days_since(start, parse_calendar_day("2027-12-29").value()) == -1.0);
    CHECK(month_of_year(start) == 12);
}

TEST_CASE("month m includes its last instant") {
    CHECK(month_of_day(0.0) == 1);
    CHECK(month_of_day(7.0) == 1);
    for (int month = 1; month <= 1200; ++month) {
        const double end_d = day_at_month(month);
        REQUIRE(month_of_day(end_d) == month);
        REQUIRE(month_of_day(end_d + 1e-6) == month + 1);
        REQUIRE(month_of_day(end_d - 1e-6) == month);
    }
}
