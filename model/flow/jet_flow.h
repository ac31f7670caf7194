// The tank's flow from jet theory alone: no grid, no solver, the pumps' jets and a stirred rest.
//
// A season's flow is solved on a grid (model/flow/grid_flow.h), and takes from this one only whose
// jet it is that moves the water somewhere. To tests it is a flow that costs nothing.
//
// A jet runs straight until it meets the bed, follows the bed from there, and ends at the glass.
// The bed is a slip wall: an image of the jet below it adds its momentum (half the jet's momentum
// would otherwise leave through the bed). A jet that meets the bed at an angle a keeps the share
// (1 + cos a)/2 of its momentum along its heading (the split of an ideal plane jet on a wall).
// Rock casts a lee: a point whose straight line from the nozzle meets rock gets nothing of the jet.
// What a jet still carries when it meets the far glass is stirred into the whole tank.
//
// Honest within the first tank length of a jet that keeps clear of glass and surface: centreline
// within about 10 %. Not in it: return flow as a direction (only its speed, within a factor of
// two), jets that cling to glass or surface, flow around rock, jets that meet the bed more steeply
// than about 60 degrees (their wall jet spreads in a ring; here half of it runs on ahead), lee of
// colonies.
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

    /// What one pump alone sends to a point while it runs [m/s].
    Vec3 pump_velocity_m_s(std::size_t pump, const Vec3& point_m) const;

    /// Speed of the stirred rest of the tank in a setting [m/s].
    double background_m_s(std::size_t setting) const { return background_m_s_[setting]; }

  private:
    /// A rock and a box that holds it, to pass it by quickly.
    struct Obstacle {
        Rock rock;
        Box bounds_m;
    };
    /// A pump's jet up to the bed, and along the bed from there on if it gets so far.
    struct Path {
        Jet free;
        std::optional<Jet> along_bed;  ///< its nozzle is where the free jet meets the bed
        double bed_from_m = 1e300;     ///< length of the free jet up to there
        double thrust_N = 0.0;
        double spent_power_W = 0.0;  ///< of the mean flow where it meets the glass
    };

    Path path_of(const Pump& pump, double density_kg_m3) const;
    bool in_water(const Vec3& point_m) const;
    bool clear(const Vec3& from_m, const Vec3& to_m) const;
    Vec3 free_part_m_s(const Path& path, const Vec3& point_m) const;
    Vec3 bed_part_m_s(const Path& path, const Vec3& point_m) const;

    Box water_;
    std::vector<Obstacle> obstacles_;
    std::vector<Path> paths_;
    std::vector<PumpSetting> settings_;
    std::vector<double> background_m_s_;  ///< by setting
};

}  // namespace bedshade
