// The uncertainty of a measured value, as written in layouts.
#pragma once

#include "sim/input/text/table_reader.h"

namespace bedshade {

inline constexpr Range kUncertaintyFactor{
    1.0, 10.0, "it is the factor between the best estimate and its 95 % end"};

}  // namespace bedshade
