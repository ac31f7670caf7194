#include <algorithm>
#include <cmath>
#include <fmt/format.h>

#include "tests/observations/observations.h"

namespace bedshade::test {
namespace {

std::string range_text(const Observation& seen) {
    const auto figure = [](double value) { return fmt::format("{:.3g}", value); };
    if (std::isinf(seen.high)) return "at least " + figure(seen.low);
    return fmt::format("{} to {}", figure(seen.low), figure(seen.high));
}

std::string model_text(double value) {
    return value >= 1e9 ? std::string("never") : fmt::format("{:.3g}", value);
}

}  // namespace

std::string observations_page() {
    const auto all = observations();
    const auto agreeing = std::count_if(all.begin(), all.end(),
                                        [](const Observation& seen) { return seen.agrees(); });
    std::string page = fmt::format(
        "# What was seen of corals, and what the model makes of it\n\n"
        "Made by `tools/observations`; `tests/published/observations_test.cpp` holds the program "
        "to "
        "this page.\nThe model's figures are those of the built-in trait table, put through the "
        "model's own functions. {} of {} agree.\n\n"
        "| observation | source | seen | model | |\n|---|---|---|---|---|\n",
        agreeing, all.size());
    for (const Observation& seen : all)
        page += fmt::format("| {} | {} | {} {} | {} | {}{}{} |\n", seen.what, seen.source,
                            range_text(seen), seen.unit, model_text(seen.model),
                            seen.agrees() ? "agrees" : "**disagrees**",
                            seen.remark.empty() ? "" : ". ", seen.remark);
    page +=
        "\n## Not in the model\n\n| observation | source | why it is not compared "
        "|\n|---|---|---|\n";
    for (const LeftOut& left : left_out())
        page += fmt::format("| {} | {} | {} |\n", left.what, left.source, left.why);
    return page;
}

}  // namespace bedshade::test
