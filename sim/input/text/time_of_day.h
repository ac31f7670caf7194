// Times of day as layout files write them.
#pragma once

#include <optional>
#include <string_view>

namespace bedshade {

/// "HH:MM" as hours from midnight, 0 to 24, or nothing when it is no time of day.
std::optional<double> hour_of_day(std::string_view text);

}  // namespace bedshade
