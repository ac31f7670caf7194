// What the sand does, in words: where it goes, what that means for rock, what lives in it.
#pragma once

#include <string>
#include <vector>

#include "sim/verdict/bed_change.h"

namespace bedshade {

/// Where sand leaves fastest and piles up fastest; one or two lines.
std::string bed_change_text(const Layout& layout, const BedGrid& grid,
                            const std::vector<double>& net_change_kg_m2_d);

/// A line for each rock that rests on sand which is dug or washed away beside it, with the caution;
/// empty where there is none.
std::string undermined_text(const Layout& layout, const BedGrid& grid,
                            const std::vector<double>& net_change_kg_m2_d);

/// A line for each coral that animals irritate at its base; empty if there is none.
std::string irritation_text(const Layout& layout);

}  // namespace bedshade
