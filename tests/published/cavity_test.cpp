// The flow solver against the driven cavity: a lid that slides over a box of water.
#include "tests/cases/cavity.h"

#include <catch2/catch.hpp>
#include <cmath>

#include "tests/cases/exact_flows.h"

using namespace bedshade::cases;

namespace {

CavityExtremes cavity_extremes(int cells, double reynolds, double time_s) {
    const CavityResult result = plane_cavity(cells, reynolds, time_s);
    CHECK(result.divergence_per_s < 1e-10);
    return result.extremes;
}

void check_extremes(const CavityExtremes& found, const CavityExtremes& published, double share) {
    CHECK(found.least_u == Approx(published.least_u).epsilon(share));
    CHECK(found.most_v == Approx(published.most_v).epsilon(share));
    CHECK(found.least_v == Approx(published.least_v).epsilon(share));
}

}  // namespace

TEST_CASE("a driven cavity at Re 100 has the published extremes, nearer by the square of the cell",
          "[flow][published]") {
    const CavityExtremes coarse = cavity_extremes(16, 100.0, 12.0);
    const CavityExtremes fine = cavity_extremes(32, 100.0, 12.0);
    check_extremes(fine, kPlaneCavity100, 0.025);
    const double order = order_of(coarse.least_u - kPlaneCavity100.least_u,
                                  fine.least_u - kPlaneCavity100.least_u, 2.0);
    CHECK(order > 1.6);
    CHECK(order < 2.6);
}

TEST_CASE("driven cavities at Re 100, 400 and 1000 on 128 cells a side are as published",
          "[.][long][flow][published]") {
    check_extremes(cavity_extremes(128, 100.0, 20.0), kPlaneCavity100, 0.01);
    check_extremes(cavity_extremes(128, 400.0, 40.0), kPlaneCavity400, 0.01);
    check_extremes(cavity_extremes(128, 1000.0, 60.0), kPlaneCavity1000, 0.02);
}

TEST_CASE("a driven cube at Re 1000 is as published, station by station",
          "[.][long][flow][published]") {
    const CubeResult found = driven_cube(48, 40.0);
    CHECK(found.largest_off() < 0.04);
    // Codes of this kind are 0.02 off on 48 to 64 cells a side.
    CHECK(found.rms_off() < 0.02);
}
