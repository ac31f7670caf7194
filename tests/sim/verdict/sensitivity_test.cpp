// First-order indices worked out by hand.
#include "sim/verdict/sensitivity.h"

#include <catch2/catch.hpp>

using namespace bedshade;

TEST_CASE("a first-order index by hand", "[ensemble]") {
    // In order of x: 1 2 3 4, squared differences 1 1 1, variance 5/3: 1 - 3 / 6 / (5/3).
    CHECK(first_order_share({1, 4, 2, 3}, {1, 4, 2, 3}) == Approx(0.7));
    // In order: 1 3 1 3, squared differences 4 4 4, variance 4/3: 1 - 12 / 6 / (4/3).
    CHECK(first_order_share({1, 2, 3, 4}, {1, 3, 1, 3}) == Approx(-0.5));
    CHECK(first_order_share({1, 2, 3, 4}, {5, 5, 5, 5}) == 0.0);
}

TEST_CASE("the interval of an index stays between 0 and 1", "[ensemble]") {
    const FirstOrderIndex little{0.05, 0.1}, much{0.95, 0.1};
    CHECK(little.low() == 0.0);
    CHECK(little.high() == Approx(0.2145));
    CHECK(much.low() == Approx(0.7855));
    CHECK(much.high() == 1.0);
}

TEST_CASE("the error of an index is reproducible, and zero where nothing varies", "[ensemble]") {
    std::vector<double> x, y, still(40, 3.0);
    for (int i = 0; i < 40; ++i) {
        x.push_back((i * 17) % 40);
        y.push_back((i * 23) % 40);
    }
    const FirstOrderIndex once = first_order_index(x, y), again = first_order_index(x, y);
    CHECK(once.standard_error == again.standard_error);
    CHECK(once.standard_error > 0.0);
    CHECK(first_order_index(x, still).standard_error == 0.0);
}
