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
// A stream-function Newton solver of our own, 192 cells, extrapolated; agrees with Ghia, Ghia &
// Shin 1982 but for two of their misprints.
constexpr Extremes kPlane400{-0.3287, 0.3038, -0.4540};
// Botella & Peyret 1998.
constexpr Extremes kPlane1000{-0.3885698, 0.3769447, -0.5270771};

void check_extremes(const Extremes& found, const Extremes& published, double share) {
    CHECK(found.least_u == Approx(published.least_u).epsilon(share));
    CHECK(found.most_v == Approx(published.most_v).epsilon(share));
    CHECK(found.least_v == Approx(published.least_v).epsilon(share));
}

struct Station {
    double place, value;
};
// Albensoeder & Kuhlmann 2005, Tables 5 and 6: u(1/2, y, 1/2) and v(x, 1/2, 1/2) at Re 1000.
constexpr Station kCubeU[] = {{0.9766, 0.58964},  {0.9531, 0.33171},  {0.8516, 0.12183},
                              {0.7344, 0.07334},  {0.6172, 0.03905},  {0.5000, 0.00802},
                              {0.4531, -0.00612}, {0.2813, -0.10999}, {0.1719, -0.25160},
                              {0.1016, -0.27293}, {0.0703, -0.23696}, {0.0547, -0.20623}};
constexpr Station kCubeV[] = {{0.0625, 0.21738},  {0.0938, 0.24407},  {0.1563, 0.22924},
                              {0.2344, 0.16987},  {0.5000, 0.03674},  {0.8047, -0.15223},
                              {0.8594, -0.31117}, {0.9063, -0.43423}, {0.9453, -0.33511},
                              {0.9688, -0.18864}};

/// A component along its line through the middle, between cell centres by straight lines.
double at_station(const BoxFlow& flow, std::size_t component, double place) {
    const int n = flow.grid().cells[0];
    const double along = place * n - 0.5;
    const int first = std::clamp(static_cast<int>(std::floor(along)), 0, n - 2);
    const auto value = [&](int i) {
        return component == 0 ? in_middle(flow, 0, n / 2, i) : in_middle(flow, 1, i, n / 2);
    };
    return value(first) + (along - first) * (value(first + 1) - value(first));
}

}  // namespace

TEST_CASE("a driven cavity at Re 100 has the published extremes, nearer by the square of the cell",
          "[flow][published]") {
    const Extremes coarse = cavity_extremes(16, 1, 100.0, 12.0);
    const Extremes fine = cavity_extremes(32, 1, 100.0, 12.0);
    check_extremes(fine, kPlane100, 0.025);
    const double order =
        std::log2((coarse.least_u - kPlane100.least_u) / (fine.least_u - kPlane100.least_u));
    CHECK(order > 1.6);
    CHECK(order < 2.6);
}

TEST_CASE("driven cavities at Re 100, 400 and 1000 on 128 cells a side are as published",
          "[.][long][flow][published]") {
    check_extremes(cavity_extremes(128, 1, 100.0, 20.0), kPlane100, 0.01);
    check_extremes(cavity_extremes(128, 1, 400.0, 40.0), kPlane400, 0.01);
    check_extremes(cavity_extremes(128, 1, 1000.0, 60.0), kPlane1000, 0.02);
}

TEST_CASE("a driven cube at Re 1000 is as published, station by station",
          "[.][long][flow][published]") {
    BoxFlow flow(cavity(48, 48, 1000.0));
    run(flow, 40.0);
    double squares = 0.0;
    for (const Station& s : kCubeU) {
        INFO("y = " << s.place);
        const double off = at_station(flow, 0, s.place) - s.value;
        squares += off * off;
        CHECK(std::abs(off) < 0.04);
    }
    for (const Station& s : kCubeV) {
        INFO("x = " << s.place);
        const double off = at_station(flow, 1, s.place) - s.value;
        squares += off * off;
        CHECK(std::abs(off) < 0.04);
    }
    // Codes of this kind are 0.02 off on 48 to 64 cells a side.
    CHECK(std::sqrt(squares / (std::size(kCubeU) + std::size(kCubeV))) < 0.02);
}
