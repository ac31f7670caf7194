// The options of commands that run a season: how long, and of which random numbers.
#pragma once

#include "tools/bedshade/arguments.h"

namespace bedshade {

/// --months and --seed.
void add_season_options(po::options_description& options);

/// Sets the horizon where it is given; throws UsageError when it is out of range.
void set_months(Layout& layout, const Arguments& arguments);

std::uint64_t seed_of(const Arguments& arguments);

}  // namespace bedshade
