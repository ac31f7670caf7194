// The trait table that comes with the program, compiled in so that it is found from any folder.
#pragma once

#include <string_view>

namespace bedshade {

/// The text of scenarios/traits.csv.
std::string_view builtin_traits_csv();

}  // namespace bedshade
