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
/// that a cut can keep away, or that the same run without cuts does not have. Hunger of a coral
/// whose spot has been found too dim before is the spot's.
std::optional<Flag> first_to_answer_for(const Layout& layout, const std::vector<Flag>& flags,
                                        const std::vector<Flag>& without_cuts);

/// Those on the bed for which no plan has to answer, in their order.
std::vector<Flag> left_alone(const Layout& layout, const std::vector<Flag>& flags);

}  // namespace bedshade
