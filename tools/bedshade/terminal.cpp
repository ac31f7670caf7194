#include "tools/bedshade/terminal.h"

#include <algorithm>
#include <cstdio>
#include <cstdlib>
#include <fmt/format.h>
#include <string_view>
#include <unistd.h>

namespace bedshade {
namespace {

bool is_dumb() {
    const char* term = std::getenv("TERM");
    return term == nullptr || std::string_view(term) == "dumb";
}

std::string remaining(double share_done, double elapsed_s) {
    if (share_done < 0.05) return "";
    const double left_s = elapsed_s * (1.0 - share_done) / share_done;
    return fmt::format(", {:.0f} s left", left_s);
}

}  // namespace

bool may_emphasise_stdout() {
    const char* no_colour = std::getenv("NO_COLOR");
    return isatty(STDOUT_FILENO) == 1 && (no_colour == nullptr || *no_colour == '\0') && !is_dumb();
}

std::string bold(const std::string& text) {
    return may_emphasise_stdout() ? "\033[1m" + text + "\033[0m" : text;
}

void print_text(const std::string& text) noexcept {
    // A failure cannot be reported.
    std::fputs(text.c_str(), stderr);
}

ProgressBar::ProgressBar(std::string label, bool quiet)
    : label_(std::move(label)),
      shown_(!quiet && isatty(STDERR_FILENO) == 1 && !is_dumb()),
      started_(std::chrono::steady_clock::now()) {}

ProgressBar::~ProgressBar() {
    if (shown_) print_text("\r\033[K");
}

void ProgressBar::show(double share_done, const std::string& note) {
    using namespace std::chrono_literals;
    const auto now = std::chrono::steady_clock::now();
    if (!shown_ || now - last_ < 250ms) return;
    last_ = now;
    constexpr int kWidth = 30;
    const int filled = static_cast<int>(kWidth * std::clamp(share_done, 0.0, 1.0));
    const double elapsed_s = std::chrono::duration<double>(now - started_).count();
    print_message("\r\033[K{} [{}{}] {}{}", label_,
                  std::string(static_cast<std::size_t>(filled), '='),
                  std::string(static_cast<std::size_t>(kWidth - filled), ' '), note,
                  remaining(share_done, elapsed_s));
    std::fflush(stderr);
}

}  // namespace bedshade
