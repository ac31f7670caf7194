// What a terminal is reported while something runs, and whether it may be coloured.
#pragma once

#include <chrono>
#include <fmt/format.h>
#include <string>
#include <utility>

namespace bedshade {

/// Whether text to standard output may carry emphasis: a terminal, NO_COLOR unset or empty, TERM
/// not "dumb".
bool may_emphasise_stdout();

/// Text in bold where that is allowed, else as it is.
std::string bold(const std::string& text);

/// Prints to standard error. A terminal that is gone (its window closed) takes no words and ends
/// nothing: what is being done matters more than that it is reported.
void print_text(const std::string& text) noexcept;
template <typename... Values>
void print_message(fmt::format_string<Values...> format, Values&&... values) {
    print_text(fmt::format(format, std::forward<Values>(values)...));
}

/// A bar on standard error, drawn at most four times a second and only on a terminal.
class ProgressBar {
  public:
    ProgressBar(std::string label, bool quiet);
    ~ProgressBar();
    ProgressBar(const ProgressBar&) = delete;
    ProgressBar& operator=(const ProgressBar&) = delete;

    void show(double share_done, const std::string& note);

  private:
    std::string label_;
    bool shown_;
    std::chrono::steady_clock::time_point started_, last_;
};

}  // namespace bedshade
