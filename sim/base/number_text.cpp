#include "sim/base/number_text.h"

#include <charconv>
#include <cmath>

namespace bedshade {

std::optional<double> number_in(std::string_view word) {
    if (word.size() > 1 && word[0] == '+' && word[1] != '-') word.remove_prefix(1);
    double value = 0.0;
    const auto [end, error] = std::from_chars(word.data(), word.data() + word.size(), value);
    const bool good = error == std::errc{} && end == word.data() + word.size();
    return good && std::isfinite(value) ? std::optional(value) : std::nullopt;
}

}  // namespace bedshade
