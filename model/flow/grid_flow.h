// Flow field solved on a grid, one solution for each pump setting.
#pragma once

#include <memory>
#include <vector>

#include "model/flow/flow_field.h"
#include "model/flow/imposed_jet.h"
#include "model/flow/jet_flow.h"
#include "model/flow/tank_flow.h"

namespace bedshade {

class GridFlow final : public FlowField {
  public:
    /// Solves every setting of the scene's pumps.
    GridFlow(const FlowScene& scene, double largest_cell_m);
    /// From existing solutions for the scene, by setting.
    GridFlow(const FlowScene& scene, std::vector<std::shared_ptr<const TankFlow>> fields);

    const std::vector<PumpSetting>& settings() const override { return settings_; }
    /// From the grid; where a pump's jet is too narrow for the grid, the jet itself if it is
    /// faster.
    Vec3 setting_velocity_m_s(std::size_t setting, const Vec3& point_m) const override;
    double setting_speed_m_s(std::size_t setting, const Vec3& point_m) const override;
    /// From jet theory: the solution does not contain the pump that moved the water.
    std::vector<double> setting_pump_shares(std::size_t setting,
                                            const Vec3& point_m) const override;

    const TankFlow& field(std::size_t setting) const { return *fields_[setting]; }

  private:
    Box water_;
    std::vector<PumpSetting> settings_;
    std::vector<std::shared_ptr<const TankFlow>> fields_;  ///< by setting
    std::vector<ImposedJet> jets_;                         ///< by pump
    JetFlow shares_;
};

}  // namespace bedshade
