// A comparison written for a person, and as JSON.
#pragma once

#include <string>
#include <vector>

#include "sim/verdict/comparison.h"
#include "sim/verdict/paired_runs.h"

namespace bedshade {

/// Flags that are new, gone or moved, corals that differ as far as the values show it, and maps of
/// the bed side by side where they differ. Both layouts must outlive the call.
std::string comparison_text(const Arm& before, const Arm& after, const Comparison& difference);

/// What many members say of the difference: how often flags come and go, how far they move, and
/// corals' values in pairs.
std::string paired_text(const PairedRuns& seasons);

/// The same as one JSON document (format 1), with every colony that differs at all; `members` are
/// told too, if there are any.
std::string comparison_json(const Arm& before, const Arm& after, const Comparison& difference,
                            std::uint64_t seed, const std::vector<std::string>& warnings,
                            const PairedRuns* members = nullptr);

}  // namespace bedshade
