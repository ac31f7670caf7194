// The option --months, of commands that run a season.
#pragma once

#include "tools/bedshade/arguments.h"

namespace bedshade {

void add_months_option(po::options_description& options);

/// Sets the horizon where it is given; throws UsageError when it is out of range.
void set_months(Layout& layout, const Arguments& arguments);

}  // namespace bedshade
