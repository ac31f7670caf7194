// Wakes of corals.
#include "model/flow/wake.h"

#include <catch2/catch.hpp>

#include "tests/cases/wake.h"

using namespace bedshade;

namespace {

const FlowBody kBody{Vec3(0.5, 0.5, 0.0), 0.05, 0.1};
const Vec3 kAlong(0.1, 0.0, 0.0);

/// u/u0 of the body at a distance in diameters behind, beside and above its base.
double left(double behind, double aside, double height_m) {
    return wake_factor({kBody}, -1, Vec3(0.5 + 0.1 * behind, 0.5 + 0.1 * aside, height_m), kAlong);
}

}  // namespace

TEST_CASE("a coral slows the flow in its wake, less with distance, and not upstream or above it") {
    CHECK(left(0.6, 0.0, 0.02) < 0.75);
    CHECK(left(0.6, 0.0, 0.02) > 0.6);
    CHECK(left(2.0, 0.0, 0.02) > left(1.0, 0.0, 0.02));
    CHECK(left(1.0, 1.0, 0.02) > left(1.0, 0.0, 0.02));
    CHECK(left(1.0, -0.5, 0.02) == Approx(left(1.0, 0.5, 0.02)));
    CHECK(left(1.0, 0.0, 0.09) > left(1.0, 0.0, 0.06));
    CHECK(left(-1.0, 0.0, 0.02) == 1.0);
    CHECK(left(1.0, 0.0, 0.12) == 1.0);
}

TEST_CASE("the wake lies downstream") {
    const Vec3 behind(0.5, 0.6, 0.02);
    CHECK(wake_factor({kBody}, -1, behind, Vec3(0.0, 0.1, 0.0)) < 0.8);
    CHECK(wake_factor({kBody}, -1, behind, Vec3(0.0, -0.1, 0.0)) == 1.0);
    CHECK(wake_factor({kBody}, -1, behind, Vec3::Zero()) == 1.0);
    CHECK(wake_factor({kBody}, -1, behind, Vec3(0.0, 0.0, 0.1)) == 1.0);
}

TEST_CASE("wakes multiply, none is in its own, and absent colonies have none") {
    const Vec3 at(0.65, 0.5, 0.02);
    const double one = wake_factor({kBody}, -1, at, kAlong);
    CHECK(wake_factor({kBody, kBody}, -1, at, kAlong) == Approx(one * one));
    CHECK(wake_factor({kBody, kBody}, 0, at, kAlong) == Approx(one));
    CHECK(wake_factor({FlowBody{}}, -1, at, kAlong) == 1.0);
}

TEST_CASE("a solution with solid corals is closer to the flow with wakes than to the flow without",
          "[.][long][flow]") {
    using cases::WakeBed;
    for (const WakeBed bed : {WakeBed::one_low_pump, WakeBed::crossed_pumps, WakeBed::not_fitted}) {
        const cases::WakeError error = cases::wake_error(bed);
        CHECK(error.with_wake < 0.95 * error.left_out);
        CHECK(error.with_wake < 0.40);
    }
}
