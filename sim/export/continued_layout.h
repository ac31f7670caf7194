// A month of a run as a layout that continues from there.
#pragma once

#include <string>

#include "sim/run/checkpoint.h"
#include "sim/trajectory/run_provenance.h"

namespace bedshade {

/// TOML of the run's own layout with the day it continues from and how every colony stands on it.
/// Its months are its own, or twelve more where they end with the month of that day. `traits_file`,
/// if any, is named as its trait table.
std::string continued_layout_text(const RunProvenance& facts, const Checkpoint& checkpoint,
                                  const std::string& traits_file = "");

}  // namespace bedshade
