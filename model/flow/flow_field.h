// Interface of a tank's flow field, independent of the method.
#pragma once

#include <cstddef>
#include <vector>

#include "model/base/geometry.h"
#include "model/flow/pump_settings.h"

namespace bedshade {

/// A steady flow for each pump setting. Velocity outside the water is 0.
class FlowField {
  public:
    virtual ~FlowField() = default;

    virtual const std::vector<PumpSetting>& settings() const = 0;

    /// Mean velocity in a pump setting [m/s].
    virtual Vec3 setting_velocity_m_s(std::size_t setting, const Vec3& point_m) const = 0;

    /// Root mean square speed in a pump setting: mean velocity and turbulent fluctuations together
    /// [m/s]. Never less than |velocity|.
    virtual double setting_speed_m_s(std::size_t setting, const Vec3& point_m) const = 0;

    /// Share of each pump in the momentum at a point in a pump setting; the sum is 1, or all are 0
    /// when no pump runs.
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
