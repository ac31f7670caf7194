// How sure a forecast is, in words.
#pragma once

#include <string>

#include "model/reef/layout.h"

#include "sim/verdict/ensemble.h"

namespace bedshade {

/// A line a flag: its middle month, its range and in how many runs, and what it depends on most.
/// Months and range are of the runs that raise it.
std::string ensemble_text(const Layout& layout, const Ensemble& ensemble);

/// "month 14, between 10 and 19, in 8 of 10 runs"
std::string month_range_text(const FlagSpread& spread);

}  // namespace bedshade
