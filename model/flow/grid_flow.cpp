#include "model/flow/grid_flow.h"

#include <cassert>
#include <cmath>

namespace bedshade {
namespace {

std::vector<std::shared_ptr<const TankFlow>> solved(const FlowScene& scene, double largest_cell_m) {
    std::vector<std::shared_ptr<const TankFlow>> fields;
    for (const PumpSetting& setting : pump_settings(scene.pumps))
        fields.push_back(std::make_shared<const TankFlow>(
            solve_tank_flow(scene, setting.running, largest_cell_m)));
    return fields;
}

}  // namespace

GridFlow::GridFlow(const FlowScene& scene, double largest_cell_m)
    : GridFlow(scene, solved(scene, largest_cell_m)) {}

GridFlow::GridFlow(const FlowScene& scene, std::vector<std::shared_ptr<const TankFlow>> fields)
    : water_(water_volume(scene.tank)),
      settings_(pump_settings(scene.pumps)),
      fields_(std::move(fields)),
      shares_(scene.tank, scene.pumps, scene.rocks, scene.water) {
    assert(fields_.size() == settings_.size());
    const double cell_m = fields_.front()->grid.cell_m.maxCoeff();
    for (const Pump& pump : scene.pumps) jets_.emplace_back(pump, water_, scene.rocks, cell_m);
}

Vec3 GridFlow::setting_velocity_m_s(std::size_t setting, const Vec3& point_m) const {
    if (!water_.contains(point_m)) return Vec3::Zero();
    Vec3 velocity = velocity_at_m_s(*fields_[setting], point_m);
    for (std::size_t p = 0; p < jets_.size(); ++p) {
        if (!settings_[setting].running[p]) continue;
        const Vec3 jet = jets_[p].subgrid_velocity_m_s(point_m);
        if (jet.squaredNorm() > velocity.squaredNorm()) velocity = jet;
    }
    return velocity;
}

double GridFlow::setting_speed_m_s(std::size_t setting, const Vec3& point_m) const {
    if (!water_.contains(point_m)) return 0.0;
    return std::hypot(setting_velocity_m_s(setting, point_m).norm(),
                      turbulent_speed_at_m_s(*fields_[setting], point_m));
}

std::vector<double> GridFlow::setting_pump_shares(std::size_t setting, const Vec3& point_m) const {
    return shares_.setting_pump_shares(setting, point_m);
}

}  // namespace bedshade
