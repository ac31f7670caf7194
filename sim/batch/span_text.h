// The ends of a range as a study writes them, and the values between.
#pragma once

#include <optional>
#include <string>
#include <toml++/toml.h>

#include "sim/batch/study.h"

namespace bedshade {

/// The span between two values of a study: bare numbers, or texts of one or more numbers and a
/// unit ("30 25 cm"). Nothing, and the reason in `why`, when they are not of one kind and unit, or
/// the span is empty.
std::optional<Span> span_between(const toml::node& from, const toml::node& to, std::string& why);

/// The value `share` of the way along the span [0, 1], as TOML text.
std::string value_along(const Span& span, double share);

}  // namespace bedshade
