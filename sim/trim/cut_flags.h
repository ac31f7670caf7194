// Which flags on the bed a cut could have prevented, and which coral to cut.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "model/reef/layout.h"

#include "sim/base/flag.h"

namespace bedshade {

/// The colony to cut so that this flag is not raised; nothing where no cut helps. Growth is what
/// cuts undo: shade gained since the corals were set, reach, overgrowth, size. A spot that was too
/// dim from the start, flow, sand and strong light are not.
std::optional<int> colony_to_cut(const Layout& layout, const Flag& flag);

/// Why no cut helps, in words; empty where one does.
std::string why_no_cut_helps(const Layout& layout, const Flag& flag);

/// The first flag of a run, in order, that counts against a plan of cuts: one on the bed that a cut
/// can prevent, or could have prevented in the same run without cuts (it is then reported with the
/// culprit it has there), or that the run without cuts does not have. Not counted are: spots that
/// are too dim from the start, starvation there unless a coral that can be cut causes it, a coral
/// that cannot be cut reaching the largest size of its kind, and the walks, falls and contacts of
/// loose corals.
std::optional<Flag> first_counted_flag(const Layout& layout, const std::vector<Flag>& flags,
                                       const std::vector<Flag>& without_cuts);

/// Whether it depends on the run without cuts if some flag counts against the plan.
bool depends_on_run_without_cuts(const Layout& layout, const std::vector<Flag>& flags);

/// Flags on the bed that no cut could have prevented, in order.
std::vector<Flag> left_alone(const Layout& layout, const std::vector<Flag>& flags,
                             const std::vector<Flag>& without_cuts);

}  // namespace bedshade
