// The incompressible solver against exact solutions and conservation laws.
#include "model/flow/solver/incompressible_solver.h"

#include <catch2/catch.hpp>
#include <cmath>

#include "tests/cases/exact_flows.h"

namespace {

using namespace bedshade;
using namespace bedshade::cases;

/// A closed box with a block of rock and a jet along x, mirrored in y or not.
SolverCase jet_box(bool mirrored) {
    SolverCase box;
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
    BodyForce body_force;
    body_force.weight = [=](const Vec3& at) {
        const Vec3 p = turned(at);
        return p.x() < 0.2 && std::hypot(p.y() - 0.2, p.z() - 0.2) < 0.08 ? 1.0 : 0.0;
    };
    body_force.shape_m_s = [](const Vec3&) { return Vec3(0.4, 0.0, 0.0); };
    body_force.rate_per_s = 20.0;
    body_force.thrust_m4_s2 = 5e-4;
    box.body_forces = {body_force};
    return box;
}

void run(IncompressibleSolver& flow, double time_s) {
    for (double t = 0.0; t < time_s;) {
        const double dt = flow.stable_step_s();
        flow.step(dt);
        t += dt;
    }
}

}  // namespace

TEST_CASE("plane Poiseuille flow has an error of second order", "[flow]") {
    const auto error = [](int cells) {
        // The middle cell of an odd number of cells has its centre where the flow is fastest.
        return std::abs(plates_fastest_m_s(cells) - kPlatesFastest_m_s);
    };
    CHECK(kPlatesFastest_m_s == Approx(0.052138).epsilon(1e-4));
    CHECK(error(9) < 0.02 * kPlatesFastest_m_s);
    CHECK(order_of(error(9), error(27), 3.0) == Approx(2.0).margin(0.15));
}

TEST_CASE("flow in a square duct has an error of second order", "[flow]") {
    const DuctFlow found = square_duct(17);
    CHECK(found.fastest == Approx(kSquareDuct.fastest).epsilon(0.01));
    CHECK(found.mean == Approx(kSquareDuct.mean).epsilon(0.02));
    const double coarse = std::abs(square_duct(9).mean - kSquareDuct.mean);
    const double fine = std::abs(square_duct(18).mean - kSquareDuct.mean);
    CHECK(order_of(coarse, fine, 2.0) == Approx(2.0).margin(0.2));
}

TEST_CASE("Taylor-Green vortices have an error of second order", "[flow]") {
    const double coarse = vortex_error_m_s(16), fine = vortex_error_m_s(32);
    CHECK(fine < 0.01);
    CHECK(order_of(coarse, fine, 2.0) > 1.8);
}

TEST_CASE("a jet in a closed box is free of divergence and has its thrust", "[flow]") {
    IncompressibleSolver flow(jet_box(false));
    run(flow, 20.0);
    CHECK(flow.largest_divergence_per_s() < 1e-12);
    CHECK(flow.body_forces()[0].force_m4_s2() == Approx(5e-4).epsilon(1e-9));
}

TEST_CASE("the first step from rest is stable for the jet", "[flow]") {
    IncompressibleSolver flow(jet_box(false));
    const double first = flow.stable_step_s();
    run(flow, 5.0);
    CHECK(first < 2.0 * flow.stable_step_s());
}

TEST_CASE("velocity on rock faces vanishes in steady state", "[flow]") {
    IncompressibleSolver flow(jet_box(false));
    run(flow, 20.0);
    const StaggeredGrid& grid = flow.grid();
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

TEST_CASE("a mirrored box has the mirrored flow, and the same box the same bits", "[flow]") {
    IncompressibleSolver flow(jet_box(false)), again(jet_box(false)), mirrored(jet_box(true));
    for (IncompressibleSolver* each : {&flow, &again, &mirrored}) run(*each, 3.0);
    CHECK(flow.velocity_m_s() == again.velocity_m_s());
    const StaggeredGrid& grid = flow.grid();
    double apart = 0.0;
    for_cells(all_cells(grid), [&](Cells c) {
        const double here = flow.velocity_m_s()[0][grid.at(c)];
        c[1] = grid.cells[1] - 1 - c[1];
        apart = std::max(apart, std::abs(here - mirrored.velocity_m_s()[0][grid.at(c)]));
    });
    CHECK(apart < 1e-9);
}
