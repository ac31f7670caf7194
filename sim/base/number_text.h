// Numbers as people write them in files.
#pragma once

#include <optional>
#include <string_view>

namespace bedshade {

/// A finite decimal number and nothing else (a sign may stand before it); nothing otherwise.
/// Independent of locale.
std::optional<double> number_in(std::string_view word);

}  // namespace bedshade
