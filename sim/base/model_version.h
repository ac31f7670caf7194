// The versions that trajectories carry.
#pragma once

namespace bedshade {

inline constexpr const char* kProgramVersion = BEDSHADE_VERSION;

/// Moves whenever the same input gives other results.
inline constexpr const char* kModelVersion = "8";

}  // namespace bedshade
