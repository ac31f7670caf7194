// Points to sample what varies: independent, or spread evenly.
#pragma once

#include <cstddef>
#include <cstdint>

#include "sim/batch/study.h"

namespace bedshade {

/// Keys that can be sampled together: as many as there are primes in the sequence's table.
inline constexpr std::size_t kMostSampledKeys = 24;

/// Coordinate `key` of point `run` in [0, 1). Point and coordinate depend on the seed and on
/// nothing else: more points or more keys leave the earlier ones where they are.
///
/// Even: the sequence of Halton (1960, Numer. Math. 2:84), in the key's own prime base, shifted
/// round by a random amount (Cranley & Patterson 1976, SIAM J. Numer. Anal. 13:904).
double sampled_fraction(SampleKind kind, std::uint64_t seed, std::uint64_t run, std::size_t key);

}  // namespace bedshade
