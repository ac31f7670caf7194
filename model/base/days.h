// How long a day and a year are.
#pragma once

namespace bedshade {

inline constexpr double kSecondsPerDay = 86400.0;

/// The Julian year, which the model's rates a year are over; its months are a twelfth of it.
inline constexpr double kDaysPerYear = 365.25;

}  // namespace bedshade
