// Low-discrepancy sequence in the unit square (quasi-Monte Carlo).
#pragma once

#include <cstdint>

#include "model/base/geometry.h"

namespace bedshade {

/// Point `k` of a (0,2)-sequence in the unit square: any 2^m points from a multiple of 2^m on are
/// optimally stratified (van der Corput's and Sobol's second sequence; Sobol' 1967, USSR Comput.
/// Math. Math. Phys. 7:86).
Vec2 low_discrepancy_point(std::uint32_t k);

}  // namespace bedshade
