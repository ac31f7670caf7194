// The water: temperature, salinity, yellowing, turbidity, and their changes in time.
#pragma once

#include <optional>

namespace bedshade {

struct Water {
    double temperature_C = 25.5;
    double salinity_g_kg = 35.0;
    double yellowing_per_m = 0.1;  ///< absorption by dissolved colour at 440 nm [1/m]
    double turbidity_kg_m3 = 0.0;  ///< suspended dry mass
    double turbidity_grain_m = 10e-6;
    std::optional<double>
        attenuation_per_m;  ///< one measured value for all wavelengths, instead of the optics
    std::optional<double> refractive_index;  ///< instead of the formula
    double yellowing_drift_per_m_week = 0.0;
    double drift_reset_weeks = 0.0;  ///< 0: no reset
    double drift_from_d = 0.0;       ///< day of the run from which it drifts
    double seasonal_swing_K = 0.0;   ///< +- about the mean
    int warmest_month = 8;           ///< of the calendar, 1 to 12
};

}  // namespace bedshade
