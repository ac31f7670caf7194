#include "sim/report/ensemble_text.h"

#include <algorithm>
#include <fmt/format.h>

#include "sim/base/text.h"

namespace bedshade {
namespace {

/// The runs that raise it, alone.
FlagSpread raised_only(FlagSpread spread) {
    const auto none = [](const auto& month) { return !month.has_value(); };
    spread.month.erase(std::remove_if(spread.month.begin(), spread.month.end(), none),
                       spread.month.end());
    return spread;
}

bool is_the_same_in_all(const FlagSpread& spread) {
    return std::all_of(spread.month.begin(), spread.month.end(),
                       [&](const auto& month) { return month == spread.month.front(); });
}

/// "more of it, earlier; rank correlation -0.89"
std::string way_text(const Driver& driver) {
    if (!driver.one_way) return "the direction of its effect varies";
    return fmt::format("higher values make it {}; rank correlation {:.2f}",
                       driver.rank_correlation < 0.0 ? "earlier" : "later",
                       driver.rank_correlation);
}

std::string driver_text(const FlagSpread& spread, const Ensemble& ensemble) {
    // By chance alone the largest of many correlations passes the bar in fewer runs than these.
    constexpr std::size_t kFewestRuns = 14, kFewestWithFlag = 5;
    if (spread.month.size() < kFewestRuns)
        return fmt::format("{} runs are too few to say what it depends on", spread.month.size());
    const auto driver = main_driver(spread, ensemble.scores);
    if (!driver)
        return raised_only(spread).month.size() < kFewestWithFlag
                   ? "too few runs raise it to say what it depends on"
                   : "no single quantity explains most of its spread";
    const FirstOrderIndex& index = driver->index;
    return fmt::format(
        "depends most on {} ({}), which accounts for {:.0f} % of its spread (90 % interval: {:.0f} "
        "to {:.0f} %)",
        escape_control(ensemble.quantities[driver->quantity]), way_text(*driver),
        100.0 * std::clamp(index.share, 0.0, 1.0), 100.0 * index.low(), 100.0 * index.high());
}

}  // namespace

std::string month_range_text(const FlagSpread& spread) {
    const FlagSpread raised = raised_only(spread);
    const int early = *quantile_month(raised, 0.1), late = *quantile_month(raised, 0.9);
    return fmt::format("month {}{}, in {} of {} runs", *quantile_month(raised, 0.5),
                       early == late ? "" : fmt::format(", between {} and {}", early, late),
                       raised.month.size(), spread.month.size());
}

std::string ensemble_text(const Layout& layout, const Ensemble& ensemble) {
    const std::size_t runs = ensemble.scores.size();
    if (ensemble.spreads.empty()) return fmt::format("None of {} runs raises a flag.\n", runs);
    std::string text =
        fmt::format("Uncertainty ({} runs; ranges contain 80 % of the runs with the flag)\n", runs);
    for (const FlagSpread& spread : ensemble.spreads) {
        text += fmt::format(
            "  '{}' {}: {}",
            escape_control(layout.colonies[static_cast<std::size_t>(spread.colony)].name),
            to_string(spread.kind), month_range_text(spread));
        const ShareInterval share =
            share_interval(runs_with(spread), static_cast<int>(spread.month.size()));
        if (is_the_same_in_all(spread))
            text += "\n";
        else
            text +=
                fmt::format(" (90 % interval of that fraction: {:.0f} to {:.0f} %)\n    {}\n",
                            100.0 * share.low, 100.0 * share.high, driver_text(spread, ensemble));
    }
    return text;
}

}  // namespace bedshade
