#include "tests/cases/free_jet.h"

#include <algorithm>
#include <cmath>

#include "model/flow/jet_mixing.h"
#include "model/flow/tank_case.h"

#include "tests/cases/landau_jet.h"

namespace bedshade::cases {
namespace {

constexpr int kAcross = 41, kAlong = 60, kNozzleCells = 5;

Pump pump_of(const JetSetup& setup) {
    Pump pump;
    const double middle = 0.5 * kAcross * setup.cell_m;
    pump.position_m = Vec3(kNozzleCells * setup.cell_m, middle, middle);
    pump.nozzle_m = setup.nozzle_m;
    pump.flow_m3_s = setup.flow_m3_s;
    return pump;
}

FlowScene large_tank(const JetSetup& setup) {
    FlowScene scene;
    scene.tank.length_m = kAlong * setup.cell_m;
    scene.tank.width_m = scene.tank.water_depth_m = kAcross * setup.cell_m;
    scene.pumps = {pump_of(setup)};
    return scene;
}

/// Near its axis the exact jet slows as 4 nu/(x (A - 1)), Schlichting's as 3K/(8 pi nu x).
LandauJet exact_jet(const Pump& pump) {
    const double thrust = thrust_N(1.0, pump.flow_m3_s, pump.nozzle_m);
    const double nu = jet_eddy_viscosity_m2_s(thrust);
    return {pump.position_m, nu, 1.0 + 32.0 * kPi * nu * nu / (3.0 * thrust)};
}

SolverCase jet_case(const JetSetup& setup) {
    SolverCase box = tank_case(large_tank(setup), {true}, setup.cell_m);
    if (setup.room == JetRoom::open) {
        const auto exact = [jet = exact_jet(pump_of(setup))](const Vec3& p) {
            return jet.velocity_m_s(p);
        };
        for (auto& side : box.sides) side = {SideKind::given, exact, {}};
    }
    return box;
}

}  // namespace

FreeJet::FreeJet(const JetSetup& setup)
    : pump_(pump_of(setup)),
      jet_{pump_.position_m, pump_.direction, nozzle_speed_m_s(pump_.flow_m3_s, pump_.nozzle_m),
           pump_.nozzle_m},
      imposed_(std::make_unique<ImposedJet>(pump_, water_volume(large_tank(setup).tank),
                                            std::vector<Rock>{}, setup.cell_m)),
      flow_(std::make_unique<IncompressibleSolver>(jet_case(setup))) {}

void FreeJet::run_to_steady_state() {
    constexpr double kTurnovers = 0.65;
    const Vec3 size = flow_->grid().size_m();
    const double time_s = kTurnovers * size.y() * size.z() / std::sqrt(thrust_m4_s2());
    for (double time = 0.0, dt = 0.0; time < time_s; time += 10 * dt) {
        dt = flow_->stable_step_s();
        for (int i = 0; i < 10; ++i) flow_->step(dt);
    }
}

double FreeJet::thrust_m4_s2() const { return thrust_N(1.0, pump_.flow_m3_s, pump_.nozzle_m); }

int FreeJet::face_at(double diameters) const {
    return static_cast<int>(std::lround((pump_.position_m.x() + diameters * pump_.nozzle_m) /
                                        flow_->grid().cell_m.x()));
}

double FreeJet::along_m(double diameters) const {
    return flow_->grid().face_centre_m(0, {face_at(diameters), 0, 0}).x() - pump_.position_m.x();
}

double FreeJet::told_m_s(double diameters) const {
    const StaggeredGrid& grid = flow_->grid();
    const Cells face{face_at(diameters), kAcross / 2, kAcross / 2};
    return std::max(flow_->velocity_m_s()[0][grid.at(face)],
                    imposed_->subgrid_velocity_m_s(grid.face_centre_m(0, face)).x());
}

double FreeJet::measured_m_s(double diameters) const {
    return centreline_speed_m_s(jet_, along_m(diameters));
}

double FreeJet::half_width_m(double diameters) const {
    const StaggeredGrid& grid = flow_->grid();
    const auto speed = [&](int off) {
        const int i = face_at(diameters), middle = kAcross / 2;
        const Field& u = flow_->velocity_m_s()[0];
        return 0.25 *
               (u[grid.at({i, middle + off, middle})] + u[grid.at({i, middle - off, middle})] +
                u[grid.at({i, middle, middle + off})] + u[grid.at({i, middle, middle - off})]);
    };
    const double half = 0.5 * speed(0);
    int off = 1;
    while (off < kAcross / 2 && speed(off) > half) ++off;
    return grid.cell_m.y() * (off - (half - speed(off)) / (speed(off - 1) - speed(off)));
}

double FreeJet::spread(double from, double to) const {
    return (half_width_m(to) - half_width_m(from)) / (along_m(to) - along_m(from));
}

double FreeJet::momentum_share(double diameters) const {
    const StaggeredGrid& grid = flow_->grid();
    const int i = face_at(diameters);
    double sum = 0.0;
    for_cells({{i, 0, 0}, {i + 1, grid.cells[1], grid.cells[2]}}, [&](const Cells& c) {
        const double u = flow_->velocity_m_s()[0][grid.at(c)];
        if (u > 0.0) sum += u * u;
    });
    return sum * grid.cell_m.y() * grid.cell_m.z() / thrust_m4_s2();
}

double FreeJet::impulse_share(double diameters) const {
    const StaggeredGrid& grid = flow_->grid();
    const int i = face_at(diameters);
    double sum = 0.0;
    for_cells({{i, 0, 0}, {i + 1, grid.cells[1], grid.cells[2]}}, [&](const Cells& c) {
        const std::size_t at = grid.at(c);
        const double u = flow_->velocity_m_s()[0][at];
        sum += u * u + 0.5 * (flow_->pressure_m2_s2()[at] + flow_->pressure_m2_s2()[at - 1]);
    });
    return sum * grid.cell_m.y() * grid.cell_m.z() / thrust_m4_s2();
}

}  // namespace bedshade::cases
