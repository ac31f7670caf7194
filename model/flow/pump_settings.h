// Pump settings: combinations of running pumps and their fractions of time.
#pragma once

#include <vector>

#include "model/reef/pump.h"

namespace bedshade {

/// One state of the tank's pumps.
struct PumpSetting {
    double time_share = 1.0;    ///< fraction of time in this setting [1]
    std::vector<bool> running;  ///< by pump
};

/// Largest number of pulsing pumps and alternating pairs that switch. Further ones are assumed to
/// run all the time (the conservative case for sand), since each doubles the number of settings.
inline constexpr int kMaxSwitching = 4;

/// All pump settings; their time shares sum to 1. Steady pumps always run, alternating ones take
/// turns, pulsing ones switch independently of each other.
std::vector<PumpSetting> pump_settings(const std::vector<Pump>& pumps);

}  // namespace bedshade
