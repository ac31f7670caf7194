// The flow solver against flows that are known exactly, and its own laws.
#include "model/flow/box/box_flow.h"

#include <catch2/catch.hpp>
#include <cmath>
#include <utility>

namespace {

using namespace bedshade;

constexpr double kWater_m2_s = 9.59e-4 / 1023.34;

void make_plane(BoxCase& box) {
    box.sides[side_number(2, false)].kind = box.sides[side_number(2, true)].kind = SideKind::slip;
}

void make_periodic(BoxCase& box, int axis) {
    box.sides[side_number(axis, false)].kind = box.sides[side_number(axis, true)].kind =
        SideKind::periodic;
}

/// Plane flow between walls `gap_m` apart under a pressure gradient of 1 Pa/m, run until steady.
double poiseuille_fastest_m_s(int cells, double gap_m) {
    BoxCase box;
    box.grid.cells = {1, cells, 1};
    box.grid.cell_m = Vec3::Constant(gap_m / cells);
    box.viscosity_m2_s = [](const Vec3&) { return kWater_m2_s; };
    box.force_m_s2 = Vec3(1.0 / 1023.34, 0.0, 0.0);
    make_periodic(box, 0);
    make_plane(box);
    BoxFlow flow(box);
    const double settled_s = gap_m * gap_m / kWater_m2_s;
    const double dt = 0.2 * box.grid.cell_m.x() * box.grid.cell_m.x() / kWater_m2_s;
    for (double t = 0.0; t < 2.0 * settled_s; t += dt) flow.step(dt);
    return flow.velocity_m_s()[0][box.grid.at({0, cells / 2, 0})];
}

/// Fastest and mean flow in a square duct of side 1 m, viscosity 1 m2/s, pushed by 1 m/s2.
std::pair<double, double> duct_flow_m_s(int cells) {
    BoxCase box;
    box.grid.cells = {1, cells, cells};
    box.grid.cell_m = Vec3::Constant(1.0 / cells);
    box.viscosity_m2_s = [](const Vec3&) { return 1.0; };
    box.force_m_s2 = Vec3::UnitX();
    make_periodic(box, 0);
    BoxFlow flow(box);
    const double dt = 0.1 / (cells * cells);
    for (double t = 0.0; t < 1.0; t += dt) flow.step(dt);
    double sum = 0.0, fastest = 0.0;
    for_cells(all_cells(box.grid), [&](const Cells& c) {
        const double u = flow.velocity_m_s()[0][box.grid.at(c)];
        sum += u;
        fastest = std::max(fastest, u);
    });
    return {fastest, sum / (cells * cells)};
}

/// Largest error of u in Taylor and Green's decaying vortices after 1 s, steps of 0.16 cells.
double vortex_error_m_s(int cells) {
    constexpr double kNu = 0.05;
    BoxCase box;
    box.grid.cells = {cells, cells, 1};
    box.grid.cell_m = Vec3::Constant(2.0 * kPi / cells);
    box.viscosity_m2_s = [](const Vec3&) { return kNu; };
    make_periodic(box, 0), make_periodic(box, 1), make_plane(box);
    BoxFlow flow(box);
    const auto u = [](const Vec3& p) { return std::cos(p.x()) * std::sin(p.y()); };
    const auto v = [](const Vec3& p) { return -std::sin(p.x()) * std::cos(p.y()); };
    BoxState start = flow.state();
    for_cells(all_cells(box.grid), [&](const Cells& c) {
        start.velocity_m_s[0][box.grid.at(c)] = u(box.grid.face_centre_m(0, c));
        start.velocity_m_s[1][box.grid.at(c)] = v(box.grid.face_centre_m(1, c));
        const Vec3 p = box.grid.cell_centre_m(c);
        start.pressure_m2_s2[box.grid.at(c)] =
            -0.25 * (std::cos(2.0 * p.x()) + std::cos(2.0 * p.y()));
    });
    flow.start_from(start);
    const int steps = cells;
    for (int i = 0; i < steps; ++i) flow.step(1.0 / steps);
    double largest = 0.0;
    for_cells(all_cells(box.grid), [&](const Cells& c) {
        const double exact = u(box.grid.face_centre_m(0, c)) * std::exp(-2.0 * kNu);
        largest = std::max(largest, std::abs(flow.velocity_m_s()[0][box.grid.at(c)] - exact));
    });
    return largest;
}

/// A closed box with a block of rock and a jet along x, mirrored in y or not.
BoxCase jet_box(bool mirrored) {
    BoxCase box;
    box.grid.cells = {16, 12, 8};
    box.grid.cell_m = Vec3::Constant(0.05);
    box.viscosity_m2_s = [](const Vec3&) { return 1e-3; };
    for (auto& side : box.sides) side.friction = WallLaw{};
    const auto turned = [mirrored](Vec3 p) {
        if (mirrored) p.y() = 0.6 - p.y();
        return p;
    };
    box.solid = [=](const Vec3& at) {
        const Vec3 p = turned(at);
        return p.x() > 0.45 && p.x() < 0.6 && p.y() < 0.2 && p.z() < 0.2;
    };
    Drive drive;
    drive.weight = [=](const Vec3& at) {
        const Vec3 p = turned(at);
        return p.x() < 0.2 && std::hypot(p.y() - 0.2, p.z() - 0.2) < 0.08 ? 1.0 : 0.0;
    };
    drive.shape_m_s = [](const Vec3&) { return Vec3(0.4, 0.0, 0.0); };
    drive.rate_per_s = 20.0;
    drive.thrust_m4_s2 = 5e-4;
    box.drives = {drive};
    return box;
}

void run(BoxFlow& flow, double time_s) {
    for (double t = 0.0; t < time_s;) {
        const double dt = flow.stable_step_s();
        flow.step(dt);
        t += dt;
    }
}

}  // namespace

TEST_CASE("water between plates flows as Poiseuille's does, with an error of second order",
          "[flow]") {
    const double exact = 0.02 * 0.02 / (8.0 * 9.59e-4);
    const auto middle = [&](int cells) {
        // The middle cell of an odd number of cells has its centre where the flow is fastest.
        return std::abs(poiseuille_fastest_m_s(cells, 0.02) - exact);
    };
    CHECK(exact == Approx(0.052138).epsilon(1e-4));
    CHECK(middle(9) < 0.02 * exact);
    CHECK(std::log(middle(9) / middle(27)) / std::log(3.0) == Approx(2.0).margin(0.15));
}

TEST_CASE("water in a square duct flows as its series says, with an error of second order",
          "[flow]") {
    // u_max = 0.073671, mean = 0.035144 in units of side^2 G/mu (series; Shah & London 1978).
    const auto [fastest, mean] = duct_flow_m_s(17);
    CHECK(fastest == Approx(0.073671).epsilon(0.01));
    CHECK(mean == Approx(0.035144).epsilon(0.02));
    const double coarse = std::abs(duct_flow_m_s(9).second - 0.035144);
    const double fine = std::abs(duct_flow_m_s(18).second - 0.035144);
    CHECK(std::log2(coarse / fine) == Approx(2.0).margin(0.2));
}

TEST_CASE("vortices decay as Taylor and Green's do, with an error of second order", "[flow]") {
    const double coarse = vortex_error_m_s(16), fine = vortex_error_m_s(32);
    CHECK(fine < 0.01);
    CHECK(std::log2(coarse / fine) > 1.8);
}

TEST_CASE("a driven closed box is free of divergence and takes the drive's thrust", "[flow]") {
    BoxFlow flow(jet_box(false));
    run(flow, 20.0);
    CHECK(flow.largest_divergence_per_s() < 1e-12);
    CHECK(flow.drives()[0].force_m4_s2() == Approx(5e-4).epsilon(1e-9));
}

TEST_CASE("the first step from rest is short enough for the flow that will be", "[flow]") {
    BoxFlow flow(jet_box(false));
    const double first = flow.stable_step_s();
    run(flow, 5.0);
    CHECK(first < 2.0 * flow.stable_step_s());
}

TEST_CASE("rock holds the water on its faces still once the flow is steady", "[flow]") {
    BoxFlow flow(jet_box(false));
    run(flow, 20.0);
    const BoxGrid& grid = flow.grid();
    double through = 0.0, fastest = 0.0;
    for_cells({{1, 0, 0}, grid.cells}, [&](const Cells& c) {
        const std::size_t at = grid.at(c);
        const double u = std::abs(flow.velocity_m_s()[0][at]);
        fastest = std::max(fastest, u);
        if (flow.solid()[at] || flow.solid()[at - 1]) through = std::max(through, u);
    });
    CHECK(fastest > 0.05);
    CHECK(through < 0.01 * fastest);
}

TEST_CASE("the mirrored box has the mirrored flow, and the same box the same bits", "[flow]") {
    BoxFlow flow(jet_box(false)), again(jet_box(false)), mirrored(jet_box(true));
    for (BoxFlow* each : {&flow, &again, &mirrored}) run(*each, 3.0);
    CHECK(flow.velocity_m_s() == again.velocity_m_s());
    const BoxGrid& grid = flow.grid();
    double apart = 0.0;
    for_cells(all_cells(grid), [&](Cells c) {
        const double here = flow.velocity_m_s()[0][grid.at(c)];
        c[1] = grid.cells[1] - 1 - c[1];
        apart = std::max(apart, std::abs(here - mirrored.velocity_m_s()[0][grid.at(c)]));
    });
    CHECK(apart < 1e-9);
}
