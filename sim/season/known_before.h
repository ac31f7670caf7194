// How well figures that every tank has are known before anything was measured.
#pragma once

namespace bedshade {

/// Normal score of the 95 % point: spreads are given as the factor between the median and there.
inline constexpr double kScoreAt95 = 1.645;

/// Lamp output as sold against output as hung (common practice, no source).
inline constexpr double kOutputAssumed = 1.3;
/// Yellowing and turbidity between water changes (a judgement, no source).
inline constexpr double kWaterAssumed = 2.0;

}  // namespace bedshade
