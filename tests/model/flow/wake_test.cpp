// The lee that corals cast.
#include "model/flow/wake.h"

#include <catch2/catch.hpp>

#include "tests/cases/wake.h"

using namespace bedshade;

namespace {

const FlowBody kBody{Vec3(0.5, 0.5, 0.0), 0.05, 0.1};
const Vec3 kAlong(0.1, 0.0, 0.0);

/// What the body leaves so many diameters behind, beside and up from its base.
double left(double behind, double aside, double height_m) {
    return wake_factor({kBody}, -1, Vec3(0.5 + 0.1 * behind, 0.5 + 0.1 * aside, height_m), kAlong);
}

}  // namespace

TEST_CASE("a coral slows the flow behind it, less with distance, and not before or above it") {
    CHECK(left(0.6, 0.0, 0.02) < 0.75);
    CHECK(left(0.6, 0.0, 0.02) > 0.6);
    CHECK(left(2.0, 0.0, 0.02) > left(1.0, 0.0, 0.02));
    CHECK(left(1.0, 1.0, 0.02) > left(1.0, 0.0, 0.02));
    CHECK(left(1.0, -0.5, 0.02) == Approx(left(1.0, 0.5, 0.02)));
    CHECK(left(1.0, 0.0, 0.09) > left(1.0, 0.0, 0.06));
    CHECK(left(-1.0, 0.0, 0.02) == 1.0);
    CHECK(left(1.0, 0.0, 0.12) == 1.0);
}

TEST_CASE("the lee lies where the flow goes") {
    const Vec3 behind(0.5, 0.6, 0.02);
    CHECK(wake_factor({kBody}, -1, behind, Vec3(0.0, 0.1, 0.0)) < 0.8);
    CHECK(wake_factor({kBody}, -1, behind, Vec3(0.0, -0.1, 0.0)) == 1.0);
    CHECK(wake_factor({kBody}, -1, behind, Vec3::Zero()) == 1.0);
    CHECK(wake_factor({kBody}, -1, behind, Vec3(0.0, 0.0, 0.1)) == 1.0);
}

TEST_CASE("lees multiply, none is in its own, and what is not there casts none") {
    const Vec3 at(0.65, 0.5, 0.02);
    const double one = wake_factor({kBody}, -1, at, kAlong);
    CHECK(wake_factor({kBody, kBody}, -1, at, kAlong) == Approx(one * one));
    CHECK(wake_factor({kBody, kBody}, 0, at, kAlong) == Approx(one));
    CHECK(wake_factor({FlowBody{}}, -1, at, kAlong) == 1.0);
}

TEST_CASE("a solve with corals in it lies nearer to the flow with their lee than to that without",
          "[.][long][flow]") {
    using cases::LeeBed;
    for (const LeeBed bed : {LeeBed::one_low_pump, LeeBed::crossed_pumps, LeeBed::not_fitted}) {
        const cases::LeeError error = cases::lee_error(bed);
        CHECK(error.with_lee < 0.95 * error.left_out);
        CHECK(error.with_lee < 0.40);
    }
}
