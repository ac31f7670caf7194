// The keeper's deeds, carried out on their days.
#pragma once

#include <vector>

#include "model/reef/layout.h"
#include "model/reef/reef.h"

namespace bedshade {

/// Whether two days are the same, but for rounding.
bool is_same_day(double a_d, double b_d);

/// Whether an action is planned for a day.
bool is_on_day(const Action& action, double day_d);

/// Days on which something is done, rising, each once.
std::vector<double> action_days(const Layout& layout);

/// Whether a colony is not in the tank until it is added.
bool is_added_later(const Layout& layout, std::size_t colony);

/// Does what is planned for `day_d`, in the layout's order. Nothing can be done to a colony that is
/// not there, and one that is there cannot be added. A trim that finds nothing to cut is told.
/// Feeding and settings are told too; conditions.h and settings.h do them.
std::vector<AppliedAction> apply_to_colonies(const Layout& layout, double day_d, Reef& reef);

}  // namespace bedshade
