#include "sim/input/text/number_stream.h"

#include <cmath>
#include <fmt/format.h>
#include <utility>

#include "sim/base/number_text.h"
#include "sim/base/text.h"

namespace bedshade {
namespace {

constexpr std::size_t kLongestShownWord = 40;

bool is_gap(char c) { return c == ' ' || c == '\t' || c == ',' || c == '\r' || c == '\n'; }

std::string shown(std::string_view word) {
    if (word.size() <= kLongestShownWord) return escape_control(word);
    return escape_control(word.substr(0, kLongestShownWord)) + "...";
}

std::string span(Range range, bool whole) {
    return fmt::format("a {}number from {} to {}", whole ? "whole " : "", format_number(range.low),
                       format_number(range.high));
}

}  // namespace

NumberStream::NumberStream(std::string_view text, std::size_t offset, int line, std::string file,
                           Diagnostics& diagnostics)
    : text_(text),
      at_(offset),
      line_start_(offset),
      line_(line),
      file_(std::move(file)),
      diagnostics_(diagnostics),
      last_{file_, line, 1} {}

/// Whether a number may follow.
bool NumberStream::skip_gap() {
    while (at_ < text_.size() && is_gap(text_[at_])) {
        if (text_[at_++] != '\n') continue;
        ++line_;
        line_start_ = at_;
    }
    return at_ < text_.size();
}

std::string_view NumberStream::take_word() {
    const std::size_t start = at_;
    while (at_ < text_.size() && !is_gap(text_[at_])) ++at_;
    return text_.substr(start, at_ - start);
}

void NumberStream::refuse(std::string what, std::string help) {
    if (!failed_) diagnostics_.error(last_, std::move(what), std::move(help));
    failed_ = true;
}

double NumberStream::take(std::string_view what, Range range, bool whole) {
    if (failed_) return range.low;
    if (!skip_gap()) {
        last_.column = 0;
        refuse(fmt::format("the file ends where {} should follow", what), span(range, whole));
        return range.low;
    }
    last_ = {file_, line_, static_cast<int>(at_ - line_start_) + 1};
    const std::string_view word = take_word();
    const auto value = number_in(word);
    if (!value)
        refuse(fmt::format("`{}` is found instead of {}", shown(word), what), span(range, whole));
    else if (*value < range.low || *value > range.high || (whole && *value != std::floor(*value)))
        refuse(fmt::format("{} is {}", what, format_number(*value)),
               *range.help ? range.help : "it must be " + span(range, whole));
    return failed_ ? range.low : *value;
}

double NumberStream::number(std::string_view what, Range range) { return take(what, range, false); }

int NumberStream::whole(std::string_view what, int low, int high) {
    return static_cast<int>(take(what, {double(low), double(high)}, true));
}

void NumberStream::finish(std::string_view after_what) {
    if (failed_ || !skip_gap()) return;
    last_ = {file_, line_, static_cast<int>(at_ - line_start_) + 1};
    refuse(fmt::format("`{}` follows {}", shown(take_word()), after_what),
           "the numbers of angles above it set how many numbers there are");
}

}  // namespace bedshade
