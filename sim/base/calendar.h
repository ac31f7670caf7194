// The run's clock and the calendar: dates, days since the start, months.
//
// The calendar is the proleptic Gregorian one, without hours or time zones.
#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "model/reef/layout.h"

namespace bedshade {

/// A day by its date, or nothing where there is no such date (31 June; years outside 1 to 9999).
std::optional<CalendarDay> calendar_day(int year, int month, int day);

/// A day from `YYYY-MM-DD` (ISO 8601, exactly ten characters), or nothing.
std::optional<CalendarDay> parse_calendar_day(std::string_view text);

/// `YYYY-MM-DD`. Years must lie within -32767 to 32767.
std::string to_string(CalendarDay day);

/// The calendar day on which the run's day `day_d` falls (day 0 is `start`; parts of a day are
/// dropped).
CalendarDay calendar_day_at(CalendarDay start, double day_d);

/// The same as `YYYY-MM-DD`.
std::string date_at(CalendarDay start, double day_d);

/// Days from the run's start to `day`; negative before it.
double days_since(CalendarDay start, CalendarDay day);

/// The month of the year, 1 to 12.
int month_of_year(CalendarDay day);

/// The month of the run, from 1, that contains day `day_d` >= 0. Month m runs from (m-1)*30.4375 d
/// to m*30.4375 d; its last instant belongs to it, since that is what "at month m" means, and day 0
/// belongs to month 1.
int month_of_day(double day_d);

/// "At month m": the run's day m*30.4375.
inline double day_at_month(double month) { return month * kDaysPerMonth; }

}  // namespace bedshade
