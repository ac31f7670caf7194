// Lengths of a day and of a year.
#pragma once

namespace bedshade {

inline constexpr double kSecondsPerDay = 86400.0;

/// The Julian year, the unit of all rates per year; a month is a twelfth of it.
inline constexpr double kDaysPerYear = 365.25;

}  // namespace bedshade
