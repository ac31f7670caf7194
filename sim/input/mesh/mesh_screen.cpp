#include "sim/input/mesh/mesh_screen.h"

#include <charconv>
#include <cmath>
#include <fmt/format.h>

#include "sim/base/text.h"

namespace bedshade {
namespace {

constexpr std::size_t kLongestShownWord = 40;
constexpr std::string_view kBlanks = " \t\r\v\f";

}  // namespace

bool Lines::next() {
    if (rest_.empty()) return false;
    const std::size_t end = std::min(rest_.find('\n'), rest_.size());
    line_ = rest_.substr(0, end);
    rest_.remove_prefix(std::min(end + 1, rest_.size()));
    ++number_;
    return true;
}

std::string_view Lines::word() {
    line_.remove_prefix(std::min(line_.find_first_not_of(kBlanks), line_.size()));
    const std::string_view word = line_.substr(0, line_.find_first_of(kBlanks));
    line_.remove_prefix(word.size());
    return word;
}

float coordinate(std::string_view word, std::size_t line) {
    if (word.empty()) throw MeshFault(fmt::format("line {} has fewer than three numbers", line));
    const std::string_view digits = word.substr(word[0] == '+' ? 1 : 0);
    double value = 0.0;
    const auto [end, failure] =
        std::from_chars(digits.data(), digits.data() + digits.size(), value);
    const std::string shown = escape_control(word.substr(0, kLongestShownWord));
    if (failure != std::errc() || end != digits.data() + digits.size() || !std::isfinite(value))
        throw MeshFault(fmt::format("`{}` in line {} is not a valid number", shown, line));
    if (std::abs(value) > kFarthestCoordinate)
        throw MeshFault(fmt::format("{} in line {} is out of range: its size is over {:g}", shown,
                                    line, kFarthestCoordinate));
    return static_cast<float>(value) + 0.0F;  // no -0, which would not join with 0
}

}  // namespace bedshade
