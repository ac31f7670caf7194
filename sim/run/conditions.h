// What the season brings to tissue besides light and flow: the water's warmth and food.
#pragma once

#include <string>

#include "model/reef/layout.h"

namespace bedshade {

/// The water's temperature on a day of the season [degC]: its mean and a yearly wave that is
/// highest in the middle of the warmest month.
double temperature_on_C(const Layout& layout, double day_d);

/// Food against what is usual, for a colony, mean over [from_d, to_d) or at `from_d` where that is
/// empty [1]. It is 1 until the first `feed`. A `feed` without an end holds until the next one
/// without an end; one with an end goes before those while it lasts. Among equals the one that
/// began last counts, and of two on one day the later in the file. One that names a colony is for
/// that colony alone; an empty name asks for what all get.
double food_over(const Layout& layout, const std::string& colony, double from_d, double to_d);

}  // namespace bedshade
