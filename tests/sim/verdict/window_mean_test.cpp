// Means over a window, against integrals done by hand.
#include "sim/verdict/window_mean.h"

#include <catch2/catch.hpp>

using bedshade::WindowMean;

TEST_CASE("a window mean waits until it is full, and cuts a step at its edge") {
    WindowMean mean(10.0);
    CHECK_FALSE(mean.so_far());
    CHECK_FALSE(mean.add(0.0, 0.0));
    CHECK(*mean.so_far() == 0.0);
    CHECK_FALSE(mean.add(8.0, 8.0));
    CHECK(*mean.so_far() == Approx(4.0));
    // Value = day: over days 6 to 16 the mean is 11, though no day 6 was seen.
    CHECK(*mean.add(16.0, 16.0) == Approx(11.0));
    CHECK(*mean.add(18.0, 18.0) == Approx(13.0));
}

TEST_CASE("the mean of a linear function does not depend on the step") {
    for (const double step : {0.5, 1.0, 7.0, 14.0}) {
        WindowMean mean(30.0);
        double last = 0.0;
        for (double day = 0.0; day <= 140.0; day += step)
            if (const auto now = mean.add(day, 3.0 - 0.02 * day)) last = *now;
        CHECK(last == Approx(3.0 - 0.02 * 125.0));
    }
}
