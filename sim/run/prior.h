// How well figures that every tank has are known before anything was measured.
#pragma once

#include <cmath>

namespace bedshade {

/// Normal score of the 95 % point: spreads are given as the factor between the median and there.
inline constexpr double kScoreAt95 = 1.645;

/// The deviation of a logarithm, from the factor between the median and its 95 % end, and back.
inline double deviation_of(double uncertainty_factor) {
    return std::log(uncertainty_factor) / kScoreAt95;
}
inline double uncertainty_factor(double deviation) { return std::exp(kScoreAt95 * deviation); }

/// Lamp output as sold against output as hung (common practice, no source).
inline constexpr double kOutputAssumed = 1.3;
/// Yellowing and turbidity between water changes (a judgement, no source).
inline constexpr double kWaterAssumed = 2.0;

}  // namespace bedshade
