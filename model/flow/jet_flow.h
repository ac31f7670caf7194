// Flow field from jet theory: jets of the pumps and a background speed, without grid or solver.
//
// The flow of a run is solved on a grid (model/flow/grid_flow.h), which takes only the shares of
// the pumps from here. In tests it is a cheap flow field.
//
// A jet runs straight until it meets the bed, continues along the bed, and ends at the glass. The
// bed is a slip wall (method of images): the image of the jet adds its momentum; otherwise half of
// the momentum would leave through the bed. A jet that meets the bed at an angle a keeps the
// fraction (1 + cos a)/2 of its momentum forward (the split of an ideal plane jet on a wall). Rock
// shelters: the jet does not act on a point whose straight line to the nozzle intersects rock. The
// power that a jet still has at the far glass drives the background speed of the whole tank.
//
// Valid within one tank length of a jet that is clear of glass and surface: centreline within about
// 10 %. Not modelled: direction of the return flow (its speed is within a factor of two), jets
// attached to glass or surface, flow around rock, jets steeper than about 60 degrees to the bed
// (their wall jet spreads radially; here half of it continues forward), wakes of colonies.
#pragma once

#include <optional>
#include <vector>

#include "model/flow/flow_field.h"
#include "model/flow/jets.h"
#include "model/reef/pump.h"
#include "model/reef/rock.h"
#include "model/reef/tank.h"
#include "model/reef/water.h"

namespace bedshade {

class JetFlow final : public FlowField {
  public:
    /// Pump directions are unit vectors and flows positive.
    JetFlow(const Tank& tank, const std::vector<Pump>& pumps, const std::vector<Rock>& rocks,
            const Water& water);

    const std::vector<PumpSetting>& settings() const override { return settings_; }
    Vec3 setting_velocity_m_s(std::size_t setting, const Vec3& point_m) const override;
    double setting_speed_m_s(std::size_t setting, const Vec3& point_m) const override;
    std::vector<double> setting_pump_shares(std::size_t setting,
                                            const Vec3& point_m) const override;

    /// Velocity at a point from one running pump alone [m/s].
    Vec3 pump_velocity_m_s(std::size_t pump, const Vec3& point_m) const;

    /// Background speed of the tank in a setting [m/s].
    double background_m_s(std::size_t setting) const { return background_m_s_[setting]; }

  private:
    /// A rock and its bounding box.
    struct Obstacle {
        Rock rock;
        Box bounds_m;
    };
    /// A pump's jet up to the bed, and its continuation along the bed, if any.
    struct Path {
        Jet free;
        std::optional<Jet> along_bed;  ///< its nozzle is where the free jet meets the bed
        double bed_from_m = 1e300;     ///< length of the free jet up to the bed
        double thrust_N = 0.0;
        double dissipated_power_W = 0.0;  ///< power of the mean flow at the glass
    };

    Path path_of(const Pump& pump, double density_kg_m3) const;
    bool in_water(const Vec3& point_m) const;
    bool visible(const Vec3& from_m, const Vec3& to_m) const;
    Vec3 free_part_m_s(const Path& path, const Vec3& point_m) const;
    Vec3 bed_part_m_s(const Path& path, const Vec3& point_m) const;

    Box water_;
    std::vector<Obstacle> obstacles_;
    std::vector<Path> paths_;
    std::vector<PumpSetting> settings_;
    std::vector<double> background_m_s_;  ///< by setting
};

}  // namespace bedshade
