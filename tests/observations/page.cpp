#include <algorithm>
#include <cmath>
#include <fmt/format.h>

#include "tests/observations/observations.h"

namespace bedshade::test {
namespace {

std::string range_text(const Observation& observed) {
    const auto number = [](double value) { return fmt::format("{:.3g}", value); };
    if (std::isinf(observed.high)) return "at least " + number(observed.low);
    return fmt::format("{} to {}", number(observed.low), number(observed.high));
}

std::string model_text(double value) {
    return value >= 1e9 ? std::string("never") : fmt::format("{:.3g}", value);
}

}  // namespace

std::string observations_page() {
    const auto all = observations();
    const auto agreeing = std::count_if(
        all.begin(), all.end(), [](const Observation& observed) { return observed.agrees(); });
    std::string page = fmt::format(
        "# Observed corals compared with the model\n\nWritten by `tools/observations`; "
        "`tests/published/observations_test.cpp` checks that the program still gives this "
        "page.\nThe model's values are computed from the built-in trait table by the model's own "
        "functions. {} of {} agree.\n\n| observation | source | observed | model | "
        "|\n|---|---|---|---|---|\n",
        agreeing, all.size());
    for (const Observation& observed : all)
        page += fmt::format("| {} | {} | {} {} | {} | {}{}{} |\n", observed.what, observed.source,
                            range_text(observed), observed.unit, model_text(observed.model),
                            observed.agrees() ? "agrees" : "**disagrees**",
                            observed.remark.empty() ? "" : ". ", observed.remark);
    page +=
        "\n## Not in the model\n\n| observation | source | why it is not compared "
        "|\n|---|---|---|\n";
    for (const LeftOut& left : left_out())
        page += fmt::format("| {} | {} | {} |\n", left.what, left.source, left.why);
    return page;
}

}  // namespace bedshade::test
