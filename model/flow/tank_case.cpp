#include "model/flow/tank_case.h"

#include <algorithm>
#include <cmath>

#include "model/flow/bed_stress.h"
#include "model/flow/imposed_jet.h"
#include "model/flow/jet_mixing.h"

namespace bedshade {
namespace {

/// Least number of cells along a side.
constexpr int kMinCells = 4;

double mean_section_m2(const Tank& tank) {
    return std::pow(water_volume(tank).max.prod(), 2.0 / 3.0);
}

void lay_out_sides(const FlowScene& scene, double viscosity_m2_s, SolverCase& box) {
    for (auto& side : box.sides) side.friction = WallLaw{0.0, viscosity_m2_s};
    box.sides[side_number(2, false)].friction = WallLaw{rough_z0_m(scene.grain_m), viscosity_m2_s};
    box.sides[side_number(2, true)] = {SideKind::slip, {}, {}};
    box.solid_friction = WallLaw{0.0, viscosity_m2_s};
}

}  // namespace

Box water_volume(const Tank& tank) {
    return {Vec3::Zero(), Vec3(tank.length_m, tank.width_m, tank.water_depth_m)};
}

StaggeredGrid tank_grid(const Tank& tank, double largest_cell_m) {
    StaggeredGrid grid;
    const Vec3 size = water_volume(tank).max;
    for (int axis = 0; axis < 3; ++axis) {
        const int cells =
            std::max(kMinCells, static_cast<int>(std::ceil(size[axis] / largest_cell_m - 1e-9)));
        grid.cells[static_cast<std::size_t>(axis)] = cells;
        grid.cell_m[axis] = size[axis] / cells;
    }
    return grid;
}

std::vector<Pump> running_pumps(const FlowScene& scene, const std::vector<bool>& running) {
    std::vector<Pump> pumps;
    for (std::size_t p = 0; p < scene.pumps.size(); ++p)
        if (running[p]) pumps.push_back(scene.pumps[p]);
    return pumps;
}

SolverCase tank_case(const FlowScene& scene, const std::vector<bool>& running,
                     double largest_cell_m) {
    SolverCase box;
    box.grid = tank_grid(scene.tank, largest_cell_m);
    const double cell_m = box.grid.cell_m.maxCoeff();
    const double molecular = seawater(scene.water).kinematic_viscosity_m2_s();
    const std::vector<Pump> pumps = running_pumps(scene, running);
    lay_out_sides(scene, molecular, box);
    box.viscosity_m2_s = [mixing = JetMixing(pumps, mean_section_m2(scene.tank), cell_m),
                          molecular](const Vec3& p) {
        return molecular + mixing.viscosity_m2_s(p);
    };
    if (!scene.rocks.empty())
        box.solid = [rocks = scene.rocks](const Vec3& p) {
            return std::any_of(rocks.begin(), rocks.end(),
                               [&](const Rock& rock) { return inside(rock, p); });
        };
    for (const Pump& pump : pumps)
        box.body_forces.push_back(
            ImposedJet(pump, water_volume(scene.tank), scene.rocks, cell_m).body_force());
    return box;
}

double turnover_s(const FlowScene& scene, const std::vector<bool>& running) {
    double thrust_m4_s2 = 0.0;
    for (const Pump& pump : running_pumps(scene, running))
        thrust_m4_s2 += thrust_N(1.0, pump.flow_m3_s, pump.nozzle_m);
    return mean_section_m2(scene.tank) / std::sqrt(thrust_m4_s2);
}

}  // namespace bedshade
