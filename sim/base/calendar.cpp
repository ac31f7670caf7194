#include "sim/base/calendar.h"

#include <algorithm>
#include <charconv>
#include <chrono>
#include <cmath>
#include <fmt/core.h>

namespace bedshade {

namespace {

std::chrono::year_month_day date_of(CalendarDay day) {
    return std::chrono::sys_days(std::chrono::days(day.days_since_1970));
}

/// The number made of all of `digits`, or nothing where one of them is no digit.
std::optional<int> whole_number(std::string_view digits) {
    int value = 0;
    const char* end = digits.data() + digits.size();
    const auto [stop, error] = std::from_chars(digits.data(), end, value);
    if (error != std::errc() || stop != end || digits.front() == '-') return std::nullopt;
    return value;
}

}  // namespace

std::optional<CalendarDay> calendar_day(int year, int month, int day) {
    if (year < 1 || year > 9999 || month < 1 || month > 12 || day < 1) return std::nullopt;
    const std::chrono::year_month_day date(std::chrono::year(year),
                                           std::chrono::month(static_cast<unsigned>(month)),
                                           std::chrono::day(static_cast<unsigned>(day)));
    if (day > 31 || !date.ok()) return std::nullopt;
    const auto since_1970 = std::chrono::sys_days(date).time_since_epoch();
    return CalendarDay{static_cast<std::int32_t>(since_1970.count())};
}

std::optional<CalendarDay> parse_calendar_day(std::string_view text) {
    if (text.size() != 10 || text[4] != '-' || text[7] != '-') return std::nullopt;
    const auto year = whole_number(text.substr(0, 4));
    const auto month = whole_number(text.substr(5, 2));
    const auto day = whole_number(text.substr(8, 2));
    if (!year || !month || !day) return std::nullopt;
    return calendar_day(*year, *month, *day);
}

std::string to_string(CalendarDay day) {
    const auto date = date_of(day);
    return fmt::format("{:04}-{:02}-{:02}", static_cast<int>(date.year()),
                       static_cast<unsigned>(date.month()), static_cast<unsigned>(date.day()));
}

CalendarDay calendar_day_at(CalendarDay start, double day_d) {
    return {start.days_since_1970 + static_cast<std::int32_t>(std::floor(day_d))};
}

std::string date_at(CalendarDay start, double day_d) {
    return to_string(calendar_day_at(start, day_d));
}

double days_since(CalendarDay start, CalendarDay day) {
    return static_cast<double>(day.days_since_1970) - static_cast<double>(start.days_since_1970);
}

int month_of_year(CalendarDay day) {
    return static_cast<int>(static_cast<unsigned>(date_of(day).month()));
}

int month_of_day(double day_d) {
    // 30.4375 is a sum of powers of two, so that the end of a month divides exactly.
    return std::max(1, static_cast<int>(std::ceil(day_d / kDaysPerMonth)));
}

}  // namespace bedshade
