#include "tests/cases/exact_flows.h"

#include <algorithm>
#include <cmath>
#include <memory>

#include "model/flow/solver/incompressible_solver.h"

#include "tests/cases/landau_jet.h"

namespace bedshade::cases {
namespace {

constexpr double kWater_m2_s = 9.59e-4 / 1023.34;

void make_plane(SolverCase& box) {
    box.sides[side_number(2, false)].kind = box.sides[side_number(2, true)].kind = SideKind::slip;
}

void make_periodic(SolverCase& box, int axis) {
    box.sides[side_number(axis, false)].kind = box.sides[side_number(axis, true)].kind =
        SideKind::periodic;
}

double vortex_u(const Vec3& p) { return std::cos(p.x()) * std::sin(p.y()); }
double vortex_v(const Vec3& p) { return -std::sin(p.x()) * std::cos(p.y()); }

/// Taylor and Green's vortices in a box of 2 pi, run for `time_s` in `steps`.
std::unique_ptr<IncompressibleSolver> vortices(int cells, double nu_m2_s, double time_s,
                                               int steps) {
    SolverCase box;
    box.grid.cells = {cells, cells, 1};
    box.grid.cell_m = Vec3::Constant(2.0 * kPi / cells);
    box.viscosity_m2_s = [=](const Vec3&) { return nu_m2_s; };
    make_periodic(box, 0), make_periodic(box, 1), make_plane(box);
    auto flow = std::make_unique<IncompressibleSolver>(box);
    SolverState start = flow->state();
    for_cells(all_cells(box.grid), [&](const Cells& c) {
        start.velocity_m_s[0][box.grid.at(c)] = vortex_u(box.grid.face_centre_m(0, c));
        start.velocity_m_s[1][box.grid.at(c)] = vortex_v(box.grid.face_centre_m(1, c));
        const Vec3 p = box.grid.cell_centre_m(c);
        start.pressure_m2_s2[box.grid.at(c)] =
            -0.25 * (std::cos(2.0 * p.x()) + std::cos(2.0 * p.y()));
    });
    flow->start_from(start);
    for (int i = 0; i < steps; ++i) flow->step(time_s / steps);
    return flow;
}

double kinetic_energy(const IncompressibleSolver& flow) {
    double sum = 0.0;
    for_cells(all_cells(flow.grid()), [&](const Cells& c) {
        for (std::size_t a = 0; a < 2; ++a)
            sum += std::pow(flow.velocity_m_s()[a][flow.grid().at(c)], 2);
    });
    return sum;
}

/// The viscosity is 1 m2/s; near its axis the jet is Schlichting's (1933).
const LandauJet kLaminar{Vec3::Zero(), 1.0, 1.05};

std::unique_ptr<IncompressibleSolver> laminar_jet(int cells) {
    SolverCase box;
    box.grid.cells = {cells, cells + 1, cells + 1};
    box.grid.cell_m = Vec3(1.0 / cells, 1.0 / (cells + 1), 1.0 / (cells + 1));
    box.grid.origin_m = Vec3(1.0, -0.5, -0.5);
    box.viscosity_m2_s = [](const Vec3&) { return 1.0; };
    const auto exact = [](const Vec3& p) { return kLaminar.velocity_m_s(p); };
    for (auto& side : box.sides) side = {SideKind::given, exact, {}};
    auto flow = std::make_unique<IncompressibleSolver>(box);
    SolverState start = flow->state();
    for (int axis = 0; axis < 3; ++axis)
        for_cells(all_cells(box.grid), [&](const Cells& c) {
            start.velocity_m_s[static_cast<std::size_t>(axis)][box.grid.at(c)] =
                exact(box.grid.face_centre_m(axis, c))[axis];
        });
    flow->start_from(start);
    for (double time = 0.0, dt = 0.0; time < 0.05; time += 10 * dt) {
        dt = flow->stable_step_s();
        for (int i = 0; i < 10; ++i) flow->step(dt);
    }
    return flow;
}

struct OnAxis {
    double exact_m_s = 0.0, found_m_s = 0.0;
};
OnAxis on_axis(const IncompressibleSolver& flow, int i) {
    const Cells face{i, flow.grid().cells[1] / 2, flow.grid().cells[2] / 2};
    return {kLaminar.velocity_m_s(flow.grid().face_centre_m(0, face)).x(),
            flow.velocity_m_s()[0][flow.grid().at(face)]};
}

}  // namespace

double plates_fastest_m_s(int cells) {
    constexpr double kGap_m = 0.02;
    SolverCase box;
    box.grid.cells = {1, cells, 1};
    box.grid.cell_m = Vec3::Constant(kGap_m / cells);
    box.viscosity_m2_s = [](const Vec3&) { return kWater_m2_s; };
    box.force_m_s2 = Vec3(1.0 / 1023.34, 0.0, 0.0);
    make_periodic(box, 0);
    make_plane(box);
    IncompressibleSolver flow(box);
    const double settled_s = kGap_m * kGap_m / kWater_m2_s;
    const double dt = 0.2 * box.grid.cell_m.x() * box.grid.cell_m.x() / kWater_m2_s;
    for (double t = 0.0; t < 2.0 * settled_s; t += dt) flow.step(dt);
    return flow.velocity_m_s()[0][box.grid.at({0, cells / 2, 0})];
}

DuctFlow square_duct(int cells) {
    SolverCase box;
    box.grid.cells = {1, cells, cells};
    box.grid.cell_m = Vec3::Constant(1.0 / cells);
    box.viscosity_m2_s = [](const Vec3&) { return 1.0; };
    box.force_m_s2 = Vec3::UnitX();
    make_periodic(box, 0);
    IncompressibleSolver flow(box);
    const double dt = 0.1 / (cells * cells);
    for (double t = 0.0; t < 1.0; t += dt) flow.step(dt);
    DuctFlow found;
    for_cells(all_cells(box.grid), [&](const Cells& c) {
        const double u = flow.velocity_m_s()[0][box.grid.at(c)];
        found.mean += u / (cells * cells);
        found.fastest = std::max(found.fastest, u);
    });
    return found;
}

double vortex_error_m_s(int cells) {
    constexpr double kNu = 0.05;
    const auto held = vortices(cells, kNu, 1.0, cells);
    const IncompressibleSolver& flow = *held;
    double largest = 0.0;
    for_cells(all_cells(flow.grid()), [&](const Cells& c) {
        const double exact = vortex_u(flow.grid().face_centre_m(0, c)) * std::exp(-2.0 * kNu);
        largest = std::max(largest, std::abs(flow.velocity_m_s()[0][flow.grid().at(c)] - exact));
    });
    return largest;
}

double vortex_energy_left(int cells, double nu_m2_s, double time_s) {
    const double before = kinetic_energy(*vortices(cells, nu_m2_s, 0.0, 0));
    const int steps = static_cast<int>(std::lround(cells * time_s));
    return kinetic_energy(*vortices(cells, nu_m2_s, time_s, steps)) / before;
}

double laminar_jet_error(int cells) {
    const auto flow = laminar_jet(cells);
    double largest = 0.0;
    for (int i = 2; i < cells - 1; ++i) {
        const OnAxis here = on_axis(*flow, i);
        largest = std::max(largest, std::abs(here.found_m_s / here.exact_m_s - 1.0));
    }
    return largest;
}

double order_of(double coarse_error, double fine_error, double ratio) {
    return std::log(coarse_error / fine_error) / std::log(ratio);
}

}  // namespace bedshade::cases
