// The flow solver against the driven cavity: a lid that slides over a box of water.
#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>

#include "model/flow/box/box_flow.h"

namespace {

using namespace bedshade;

/// The lid is the upper y side and moves along x at 1 m/s; a box one cell deep is a plane flow.
BoxCase cavity(int cells, int deep, double reynolds) {
    BoxCase box;
    box.grid.cells = {cells, cells, deep};
    box.grid.cell_m = Vec3(1.0 / cells, 1.0 / cells, 1.0 / deep);
    box.viscosity_m2_s = [=](const Vec3&) { return 1.0 / reynolds; };
    box.sides[side_number(1, true)].velocity_m_s = [](const Vec3&) { return Vec3(1.0, 0.0, 0.0); };
    if (deep == 1)
        box.sides[side_number(2, false)].kind = box.sides[side_number(2, true)].kind =
            SideKind::slip;
    return box;
}

void run(BoxFlow& flow, double time_s) {
    double dt = 0.0, time = 0.0;
    for (int step = 0; time < time_s; ++step, time += dt) {
        if (step % 10 == 0) dt = flow.stable_step_s();
        flow.step(dt);
    }
}

/// A velocity component at cell or face (i, j), in the middle of the depth.
double in_middle(const BoxFlow& flow, std::size_t component, int i, int j) {
    const Field& q = flow.velocity_m_s()[component];
    const int deep = flow.grid().cells[2];
    return 0.5 * (q[flow.grid().at({i, j, deep / 2})] + q[flow.grid().at({i, j, (deep - 1) / 2})]);
}

struct Extremes {
    double least_u = 0.0, most_v = 0.0, least_v = 0.0;
};

/// On the two lines through the middle; the number of cells is even, so that faces lie on them.
Extremes extremes(const BoxFlow& flow) {
    const int n = flow.grid().cells[0];
    Extremes found;
    for (int j = 0; j < n; ++j) {
        found.least_u = std::min(found.least_u, in_middle(flow, 0, n / 2, j));
        found.most_v = std::max(found.most_v, in_middle(flow, 1, j, n / 2));
        found.least_v = std::min(found.least_v, in_middle(flow, 1, j, n / 2));
    }
    return found;
}

Extremes cavity_extremes(int cells, int deep, double reynolds, double time_s) {
    BoxFlow flow(cavity(cells, deep, reynolds));
    run(flow, time_s);
    CHECK(flow.largest_divergence_per_s() < 1e-10);
    return extremes(flow);
}

// Marchi, Suero & Araki 2009.
constexpr Extremes kPlane100{-0.2140424, 0.1795728, -0.2538030};
// Botella & Peyret 1998.
constexpr Extremes kPlane1000{-0.3885698, 0.3769447, -0.5270771};

}  // namespace

TEST_CASE("a driven cavity at Re 100 has the published extremes, nearer by the square of the cell",
          "[flow][published]") {
    const Extremes coarse = cavity_extremes(16, 1, 100.0, 12.0);
    const Extremes fine = cavity_extremes(32, 1, 100.0, 12.0);
    CHECK(fine.least_u == Approx(kPlane100.least_u).epsilon(0.02));
    CHECK(fine.most_v == Approx(kPlane100.most_v).epsilon(0.025));
    CHECK(fine.least_v == Approx(kPlane100.least_v).epsilon(0.025));
    const double order =
        std::log2((coarse.least_u - kPlane100.least_u) / (fine.least_u - kPlane100.least_u));
    CHECK(order > 1.6);
    CHECK(order < 2.6);
}

TEST_CASE("a driven cavity at Re 100 and 1000 on 128 cells a side is as published",
          "[.][long][flow][published]") {
    const Extremes slow = cavity_extremes(128, 1, 100.0, 20.0);
    CHECK(slow.least_u == Approx(kPlane100.least_u).epsilon(0.01));
    CHECK(slow.most_v == Approx(kPlane100.most_v).epsilon(0.01));
    CHECK(slow.least_v == Approx(kPlane100.least_v).epsilon(0.01));
    const Extremes fast = cavity_extremes(128, 1, 1000.0, 60.0);
    CHECK(fast.least_u == Approx(kPlane1000.least_u).epsilon(0.02));
    CHECK(fast.most_v == Approx(kPlane1000.most_v).epsilon(0.02));
    CHECK(fast.least_v == Approx(kPlane1000.least_v).epsilon(0.02));
}

TEST_CASE("a driven cube at Re 1000 is as published", "[.][long][flow][published]") {
    // Albensoeder & Kuhlmann 2005, Tables 5 and 6: the station nearest each extreme.
    const Extremes cube = cavity_extremes(48, 48, 1000.0, 40.0);
    CHECK(cube.least_u == Approx(-0.27293).margin(0.03));
    CHECK(cube.most_v == Approx(0.24407).margin(0.03));
    CHECK(cube.least_v == Approx(-0.43423).margin(0.03));
}
