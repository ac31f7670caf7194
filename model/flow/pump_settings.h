// Which pumps run together, and for what share of the time.
#pragma once

#include <vector>

#include "model/reef/pump.h"

namespace bedshade {

/// One state of the tank's pumps.
struct PumpSetting {
    double time_share = 1.0;    ///< of the time the pumps are set so [1]
    std::vector<bool> running;  ///< by pump
};

/// Pulsing pumps and alternating pairs beyond this many are taken to run all the time, the stronger
/// case for sand: every further one doubles the number of settings.
inline constexpr int kMostSwitching = 4;

/// All settings the pumps go through; their time shares add up to 1. Steady pumps always run,
/// alternating ones take turns, pulsing ones switch independently of each other.
std::vector<PumpSetting> pump_settings(const std::vector<Pump>& pumps);

}  // namespace bedshade
