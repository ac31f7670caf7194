// The tank's flow solved on a grid, one field for each setting of the pumps.
#pragma once

#include <vector>

#include "model/flow/flow_field.h"
#include "model/flow/imposed_jet.h"
#include "model/flow/jet_flow.h"
#include "model/flow/tank_flow.h"

namespace bedshade {

/// Largest cell of a flow grid [m].
inline constexpr double kFlowCell_m = 0.03;

class GridFlow final : public FlowField {
  public:
    /// Solves every setting of the scene's pumps.
    explicit GridFlow(const FlowScene& scene, double largest_cell_m = kFlowCell_m);

    const std::vector<PumpSetting>& settings() const override { return settings_; }
    /// On the grid; where a pump's jet is still narrower than the grid can tell, the jet itself if
    /// it is the faster.
    Vec3 setting_velocity_m_s(std::size_t setting, const Vec3& point_m) const override;
    double setting_speed_m_s(std::size_t setting, const Vec3& point_m) const override;
    /// By jet theory: a field does not remember which pump moved its water.
    std::vector<double> setting_pump_shares(std::size_t setting,
                                            const Vec3& point_m) const override;

    const TankFlow& field(std::size_t setting) const { return fields_[setting]; }

  private:
    Box water_;
    std::vector<PumpSetting> settings_;
    std::vector<TankFlow> fields_;  ///< by setting
    std::vector<ImposedJet> jets_;  ///< by pump
    JetFlow shares_;
};

}  // namespace bedshade
