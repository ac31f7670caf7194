#include "sim/input/text/time_of_day.h"

#include <charconv>

namespace bedshade {
namespace {

std::optional<unsigned> two_digits(std::string_view text) {
    unsigned value = 0;
    const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
    const bool whole = error == std::errc{} && end == text.data() + text.size();
    return whole && text.size() <= 2 ? std::optional(value) : std::nullopt;
}

}  // namespace

std::optional<double> hour_of_day(std::string_view text) {
    const std::size_t colon = text.find(':');
    if (colon == std::string_view::npos || text.size() != colon + 3) return std::nullopt;
    const auto hour = two_digits(text.substr(0, colon));
    const auto minute = two_digits(text.substr(colon + 1));
    if (!hour || !minute || *minute > 59) return std::nullopt;
    const double value = *hour + *minute / 60.0;
    return value <= 24.0 ? std::optional(value) : std::nullopt;
}

}  // namespace bedshade
