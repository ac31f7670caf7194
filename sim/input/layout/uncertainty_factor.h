// How well a measured value is known, as layouts say it.
#pragma once

#include "sim/input/text/table_reader.h"

namespace bedshade {

inline constexpr Range kUncertaintyFactor{
    1.0, 10.0, "it is the factor between the best estimate and its 95 % end"};

}  // namespace bedshade
