// Which trouble on the bed a cut could have kept away, and whose cut that would be.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "model/reef/layout.h"

#include "sim/verdict/flag.h"

namespace bedshade {

/// The colony to cut so that this flag is not raised; nothing where no cut helps. Growth is what
/// cuts undo: shade gained since the corals were set, reach, overgrowth, size. A spot that was too
/// dim from the start, flow, sand and strong light are not.
std::optional<int> colony_to_cut(const Layout& layout, const Flag& flag);

/// Why no cut helps, in words; empty where one does.
std::string why_no_cut_helps(const Layout& layout, const Flag& flag);

/// The first flag of a run's, in their order, that a plan of cuts has to answer for: one on the bed
/// that a cut can keep away, or could have in the same run without cuts (it is reported with the
/// blame it has there), or that the run without cuts does not have. A spot that is too dim from the
/// start is the layout's, and so is hunger there for which no coral that is cut is the cause; that
/// a coral which is not cut grows to the size of its kind is no harm done; and a loose one walks or
/// falls of itself, and meets whom it will.
std::optional<Flag> first_to_answer_for(const Layout& layout, const std::vector<Flag>& flags,
                                        const std::vector<Flag>& without_cuts);

/// Whether some flag of a run's may or may not be one to answer for, by what the same run has
/// without cuts.
bool depends_on_run_without_cuts(const Layout& layout, const std::vector<Flag>& flags);

/// Those on the bed that no cut could have kept away, in their order.
std::vector<Flag> left_alone(const Layout& layout, const std::vector<Flag>& flags,
                             const std::vector<Flag>& without_cuts);

}  // namespace bedshade
