// Warmth and food over a season.
#include "sim/run/conditions.h"

#include <catch2/catch.hpp>
#include <optional>

#include "sim/base/calendar.h"

using namespace bedshade;

namespace {

Action meal(double day_d, double food, std::optional<double> for_d = {},
            std::optional<double> every_d = {}, const char* colony = "") {
    Action action;
    action.day_d = day_d;
    action.kind = ActionKind::feed;
    action.colony = colony;
    action.to = Feeding{food, for_d, every_d};
    return action;
}

double food_at(const Layout& layout, double day_d, const char* colony = "") {
    return food_over(layout, colony, day_d, day_d);
}

}  // namespace

TEST_CASE("the water is warmest in the middle of its month and coldest half a year off") {
    Layout layout;
    layout.season.start = *calendar_day(2027, 1, 1);
    layout.water.temperature_C = 25.0;
    CHECK(temperature_on_C(layout, 100.0) == 25.0);
    layout.water.seasonal_swing_K = 1.5;
    layout.water.warmest_month = 8;
    const double august_d = days_since(layout.season.start, *calendar_day(2027, 8, 15));
    CHECK(temperature_on_C(layout, august_d) == Approx(26.5).margin(1e-3));
    CHECK(temperature_on_C(layout, august_d + 365.25) == Approx(26.5).margin(1e-3));
    CHECK(temperature_on_C(layout, august_d - 182.6) == Approx(23.5).margin(1e-3));
    CHECK(temperature_on_C(layout, august_d + 91.3) == Approx(25.0).margin(0.02));
}

TEST_CASE("food is usual until something is said, and holds until something else is") {
    Layout layout;
    CHECK(food_over(layout, "A", 0.0, 7.0) == 1.0);
    layout.actions = {meal(10.0, 0.0), meal(20.0, 2.0)};
    CHECK(food_at(layout, 9.9) == 1.0);
    CHECK(food_at(layout, 10.0) == 0.0);
    CHECK(food_at(layout, 20.0) == 2.0);
    CHECK(food_over(layout, "A", 7.0, 14.0) == Approx(3.0 / 7.0));
    CHECK(food_over(layout, "A", 18.0, 22.0) == Approx(1.0));
}

TEST_CASE("what has an end goes before what has none, and comes again") {
    Layout layout;
    layout.actions = {meal(10.0, 2.0, 1.0, 7.0), meal(12.0, 0.0)};
    CHECK(food_at(layout, 10.5) == 2.0);
    CHECK(food_at(layout, 11.5) == 1.0);
    CHECK(food_at(layout, 16.9) == 0.0);
    CHECK(food_at(layout, 17.5) == 2.0);
    CHECK(food_over(layout, "A", 14.0, 21.0) == Approx(2.0 / 7.0));
    // However the stretch is cut, the food in it is the same.
    double sum = 0.0;
    for (int day = 12; day < 40; ++day) sum += food_over(layout, "A", day, day + 1);
    CHECK(sum == Approx(28.0 * food_over(layout, "A", 12.0, 40.0)));
}

TEST_CASE("of meals on one day the later in the file counts, and one for a coral is its own") {
    Layout layout;
    layout.actions = {meal(3.0, 0.5), meal(3.0, 1.5), meal(5.0, 0.0, 2.0, {}, "B")};
    CHECK(food_at(layout, 4.0, "A") == 1.5);
    CHECK(food_at(layout, 6.0, "A") == 1.5);
    CHECK(food_at(layout, 6.0, "B") == 0.0);
    CHECK(food_at(layout, 7.0, "B") == 1.5);
    CHECK(food_at(layout, 6.0) == 1.5);
}
