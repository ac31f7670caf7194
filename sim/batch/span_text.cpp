#include "sim/batch/span_text.h"

#include <cmath>
#include <fmt/format.h>

#include "sim/base/number_text.h"
#include "sim/base/text.h"
#include "sim/input/text/table_reader.h"

namespace bedshade {
namespace {

struct End {
    std::vector<double> numbers;
    std::string unit;
};

std::string_view next_word(std::string_view& text) {
    text.remove_prefix(std::min(text.find_first_not_of(' '), text.size()));
    const std::string_view word = text.substr(0, std::min(text.find(' '), text.size()));
    text.remove_prefix(word.size());
    return word;
}

std::optional<End> end_in_text(std::string_view text) {
    End end;
    constexpr std::size_t kMostNumbers = 3;
    while (end.numbers.size() <= kMostNumbers) {
        const std::string_view rest = text;
        const auto number = number_in(next_word(text));
        if (!number) {
            const std::size_t unit = std::min(rest.find_first_not_of(' '), rest.size());
            end.unit = rest.substr(unit);
            break;
        }
        end.numbers.push_back(*number);
    }
    const bool whole = !end.numbers.empty() && end.numbers.size() <= kMostNumbers;
    return whole && !end.unit.empty() ? std::optional(end) : std::nullopt;
}

std::optional<End> end_in(const toml::node& node) {
    if (const auto text = node.value_exact<std::string_view>()) return end_in_text(*text);
    const auto number = node.is_number() ? node.value<double>() : std::nullopt;
    if (!number || !std::isfinite(*number)) return std::nullopt;
    return End{{*number}, {}};
}

std::string error_about(const std::optional<End>& from, const std::optional<End>& to,
                        const toml::node& from_node, const toml::node& to_node) {
    constexpr const char* kAllowed =
        "a range goes between two numbers, or two texts like \"30 25 cm\"";
    if (!from) return fmt::format("from is {}; {}", describe(from_node), kAllowed);
    if (!to) return fmt::format("to is {}; {}", describe(to_node), kAllowed);
    if (from->unit != to->unit)
        return fmt::format("from is in '{}' and to in '{}'; give both in one unit",
                           escape_control(from->unit), escape_control(to->unit));
    if (from->numbers.size() != to->numbers.size())
        return "from and to hold different numbers of coordinates";
    if (from->numbers == to->numbers) return "from and to are the same: the range is empty";
    return {};
}

std::string number_text(double number) {
    // Ten digits: steps like 0.1 come out as they are written, not with the last bits of a double.
    std::string text = fmt::format("{:.10g}", number);
    return text == "-0" ? "0" : text;
}

}  // namespace

std::optional<Span> span_between(const toml::node& from, const toml::node& to, std::string& why) {
    const auto first = end_in(from), last = end_in(to);
    why = error_about(first, last, from, to);
    if (!why.empty()) return std::nullopt;
    return Span{first->numbers, last->numbers, first->unit, 0};
}

std::string value_along(const Span& span, double share) {
    std::string text;
    for (std::size_t i = 0; i < span.from.size(); ++i)
        text += number_text(span.from[i] + share * (span.to[i] - span.from[i])) + " ";
    text.pop_back();
    return span.unit.empty() ? text : quoted_toml(text + " " + span.unit);
}

}  // namespace bedshade
