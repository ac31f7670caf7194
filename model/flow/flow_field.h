// The tank's flow as everything else sees it, however it was found.
#pragma once

#include <cstddef>
#include <vector>

#include "model/base/geometry.h"
#include "model/flow/pump_settings.h"

namespace bedshade {

/// A steady flow for each setting of the pumps. Points lie in the water; outside it there is none.
class FlowField {
  public:
    virtual ~FlowField() = default;

    virtual const std::vector<PumpSetting>& settings() const = 0;

    /// Mean velocity while the pumps are so set [m/s].
    virtual Vec3 setting_velocity_m_s(std::size_t setting, const Vec3& point_m) const = 0;

    /// Root mean square speed while the pumps are so set: the mean velocity together with whatever
    /// changes too fast or too irregularly to have a mean [m/s]. Never less than |velocity|.
    virtual double setting_speed_m_s(std::size_t setting, const Vec3& point_m) const = 0;

    /// Share of each pump in the momentum at a point while the pumps are so set; they add up to 1,
    /// or are all 0 when no pump runs.
    virtual std::vector<double> setting_pump_shares(std::size_t setting,
                                                    const Vec3& point_m) const = 0;

    /// Mean velocity over all settings [m/s].
    Vec3 velocity_m_s(const Vec3& point_m) const;
    /// Root mean square speed over all settings [m/s].
    double speed_m_s(const Vec3& point_m) const;
    /// Largest of the settings' speeds [m/s].
    double peak_speed_m_s(const Vec3& point_m) const;
};

}  // namespace bedshade
