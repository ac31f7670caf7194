// A month of a run as a layout that goes on from there.
#pragma once

#include <string>

#include "model/reef/so_far.h"

#include "sim/trajectory/run_provenance.h"

namespace bedshade {

/// TOML of the run's own layout with the day it goes on from and how every colony stands by then.
/// All numbers read back to the same bits. Its months are its own, or twelve more where they end
/// with the month of that day. `traits_file`, if any, is named as its trait table. Where the text
/// would be longer than a layout may be, memories are left out.
std::string continued_layout_text(const RunProvenance& facts, const SeasonSoFar& so_far,
                                  const std::string& traits_file = "");

}  // namespace bedshade
