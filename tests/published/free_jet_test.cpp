// The flow solver against jets: the exact laminar one, and the decay that is measured in turbulent
// ones.
#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>

#include "model/flow/box/box_flow.h"
#include "model/flow/imposed_jet.h"
#include "model/flow/jet_mixing.h"
#include "model/flow/tank_case.h"

namespace {

using namespace bedshade;

void run(BoxFlow& flow, double time_s) {
    for (double time = 0.0, dt = 0.0; time < time_s; time += 10 * dt) {
        dt = flow.stable_step_s();
        for (int i = 0; i < 10; ++i) flow.step(dt);
    }
}

/// The round jet from a point at the origin along x that solves the Navier-Stokes equations exactly
/// (Landau 1944; Squire 1951; from memory), for a viscosity of 1 m2/s. Near its axis it is
/// Schlichting's (1933).
Vec3 landau_m_s(const Vec3& p) {
    constexpr double kA = 1.05;
    const double r = p.norm(), cosine = p.x() / r;
    const double radial = 2.0 / r * ((kA * kA - 1.0) / ((kA - cosine) * (kA - cosine)) - 1.0);
    const Vec3 outward = p / r;
    // The polar velocity, -2 sin/(r (A - cos)), points along (cos e_outward - e_x)/sin.
    const Vec3 polar = -2.0 / (r * (kA - cosine)) * (cosine * outward - Vec3::UnitX());
    return radial * outward + polar;
}

/// Largest error on the axis, as a share of the speed there, after the exact jet has been left to
/// the solver with nothing but its velocity at the sides of a box that it passes.
double landau_error(int cells) {
    BoxCase box;
    box.grid.cells = {cells, cells + 1, cells + 1};
    box.grid.cell_m = Vec3(1.0 / cells, 1.0 / (cells + 1), 1.0 / (cells + 1));
    box.grid.origin_m = Vec3(1.0, -0.5, -0.5);
    box.viscosity_m2_s = [](const Vec3&) { return 1.0; };
    for (auto& side : box.sides) side = {SideKind::given, landau_m_s, {}};
    BoxFlow flow(box);
    BoxState start = flow.state();
    for (int axis = 0; axis < 3; ++axis)
        for_cells(all_cells(box.grid), [&](const Cells& c) {
            start.velocity_m_s[static_cast<std::size_t>(axis)][box.grid.at(c)] =
                landau_m_s(box.grid.face_centre_m(axis, c))[axis];
        });
    flow.start_from(start);
    run(flow, 0.05);
    double largest = 0.0;
    for (int i = 2; i < cells - 1; ++i) {
        const Cells face{i, cells / 2, cells / 2};
        const double exact = landau_m_s(box.grid.face_centre_m(0, face)).x();
        const double found = flow.velocity_m_s()[0][box.grid.at(face)];
        largest = std::max(largest, std::abs(found / exact - 1.0));
    }
    return largest;
}

Pump free_pump() {
    Pump pump;
    pump.position_m = Vec3(0.15, 0.615, 0.615);
    pump.nozzle_m = 0.025;
    pump.flow_m3_s = 5000.0 / 3.6e6;
    return pump;
}

/// The pump alone in a large tank, its axis through the middle of cells.
FlowScene large_tank() {
    FlowScene scene;
    scene.tank.length_m = 1.8;
    scene.tank.width_m = scene.tank.water_depth_m = 41 * 0.03;
    scene.pumps = {free_pump()};
    return scene;
}

/// Momentum through the section at face `i` with the pressure on it, over density [m4/s2].
double impulse_m4_s2(const BoxFlow& flow, int i) {
    const BoxGrid& grid = flow.grid();
    double sum = 0.0;
    for_cells({{i, 0, 0}, {i + 1, grid.cells[1], grid.cells[2]}}, [&](const Cells& c) {
        const std::size_t at = grid.at(c);
        const double u = flow.velocity_m_s()[0][at];
        sum += u * u + 0.5 * (flow.pressure_m2_s2()[at] + flow.pressure_m2_s2()[at - 1]);
    });
    return sum * grid.cell_m.y() * grid.cell_m.z();
}

}  // namespace

TEST_CASE("the solver keeps the exact laminar round jet, nearer by the square of the cell",
          "[flow][published]") {
    const double coarse = landau_error(12), fine = landau_error(24);
    CHECK(fine < 0.03);
    CHECK(std::log2(coarse / fine) > 1.6);
}

TEST_CASE("the eddy viscosity of a jet slows it down as measured", "[flow][published]") {
    // nu/(U0 d) from 0.0155 (Hussein, Capp & George 1994, laser) to 0.0185 (hot wire).
    const double k = thrust_N(1.0, 5000.0 / 3.6e6, 0.025);
    const double u0_d = nozzle_speed_m_s(5000.0 / 3.6e6, 0.025) * 0.025;
    const double nu = jet_eddy_viscosity_m2_s(k);
    CHECK(nu / u0_d > 0.0150);
    CHECK(nu / u0_d < 0.0185);
    const Jet jet{Vec3::Zero(), Vec3::UnitX(), u0_d / 0.025, 0.025};
    CHECK(3.0 * k / (8.0 * kPi * nu * 1.0) == Approx(centreline_speed_m_s(jet, 1.0)));
}

TEST_CASE("a pump's jet in a large tank decays and spreads as measured on cells of 3 cm",
          "[.][long][flow][published]") {
    const FlowScene scene = large_tank();
    const Pump pump = free_pump();
    BoxFlow flow(tank_case(scene, {true}, 0.03));
    const ImposedJet imposed(pump, water_box(scene.tank), {}, 0.03);
    run(flow, 15.0);
    const Jet jet{pump.position_m, pump.direction, nozzle_speed_m_s(pump.flow_m3_s, pump.nozzle_m),
                  pump.nozzle_m};
    const double thrust = thrust_N(1.0, pump.flow_m3_s, pump.nozzle_m);
    CHECK(flow.drives()[0].force_m4_s2() == Approx(thrust).epsilon(1e-9));
    const BoxGrid& grid = flow.grid();
    const Field& u = flow.velocity_m_s()[0];
    for (int diameters = 10; diameters <= 40; diameters += 5) {
        INFO(diameters << " diameters");
        const Cells face{static_cast<int>(std::lround((0.15 + diameters * 0.025) / 0.03)), 20, 20};
        const Vec3 at = grid.face_centre_m(0, face);
        const double expected = centreline_speed_m_s(jet, at.x() - 0.15);
        const double told = std::max(u[grid.at(face)], imposed.true_m_s(at).x());
        CHECK(told == Approx(expected).epsilon(0.10));
    }
    // Past the imposed part (0.46 m) momentum and pressure together stay what they are.
    const double at_20 = impulse_m4_s2(flow, 22);
    CHECK(std::abs(impulse_m4_s2(flow, 30) - at_20) < 0.02 * thrust);
    CHECK(std::abs(impulse_m4_s2(flow, 38) - at_20) < 0.02 * thrust);
}
