#include <algorithm>
#include <cmath>
#include <fmt/format.h>

#include "sim/base/quantile.h"
#include "sim/base/text.h"
#include "sim/report/comparison_report.h"
#include "sim/report/report.h"
#include "sim/verdict/ensemble.h"

namespace bedshade {
namespace {

/// "in 14 of 16 runs (90 % interval 68 to 96 %)"
std::string share_text(int hits, int runs) {
    const ShareInterval share = share_interval(hits, runs);
    return fmt::format("in {} of {} runs (90 % interval {:.0f} to {:.0f} %)", hits, runs,
                       100.0 * share.low, 100.0 * share.high);
}

std::string months_text(double months) {
    if (std::abs(months) < 0.05) return "0";
    return fmt::format("{:.1f} {}", std::abs(months), months < 0.0 ? "sooner" : "later");
}

std::string shift_text(const PairedFlag& flag) {
    const auto& shift = flag.shift_months;
    if (shift.empty() || (shift.front() == 0.0 && shift.back() == 0.0)) return "";
    return fmt::format("shift in the {} runs with both, in months: {}, between {} and {}",
                       shift.size(), months_text(quantile(shift, 0.5)),
                       months_text(quantile(shift, 0.1)), months_text(quantile(shift, 0.9)));
}

std::string flag_line(const PairedFlag& flag, int runs) {
    std::vector<std::string> parts;
    if (flag.gained > 0) parts.push_back("new " + share_text(flag.gained, runs));
    if (flag.lost > 0) parts.push_back("gone " + share_text(flag.lost, runs));
    const std::string shift = shift_text(flag);
    if (!shift.empty()) parts.push_back(shift);
    return fmt::format("  '{}' {}: {}\n", escape_control(flag.colony), to_string(flag.kind),
                       fmt::join(parts, "; "));
}

struct Column {
    const char* heading;
    int digits;
};
// In the order of kPairedQuantities.
constexpr std::array<Column, kPairedQuantities.size()> kColumns = {
    Column{"daily light", 2}, Column{"flow", 1}, Column{"sand deposition", 1},
    Column{"most sand on it", 1}, Column{"alive at the end", 2}};
constexpr int kWidth = 24;

std::string spread_text(const PairedSpread& spread, int digits) {
    const auto shown = [&](double value) {
        const std::string text = fmt::format("{:+.{}f}", value, digits);
        // A sign before nothing but zeros says nothing.
        return text.find_first_of("123456789") == std::string::npos ? text.substr(1) : text;
    };
    return fmt::format("{} ({} to {})", shown(spread.mean), shown(spread.low), shown(spread.high));
}

std::string colonies_text(const PairedRuns& paired_runs) {
    std::string rows;
    for (const PairedColony& colony : paired_runs.colonies) {
        if (!colony.differs()) continue;
        rows += fmt::format("  {:<24}", truncate(colony.name, 23));
        for (std::size_t f = 0; f < kColumns.size(); ++f)
            rows += fmt::format("{:>{}}", spread_text(colony.difference[f], kColumns[f].digits),
                                kWidth);
        rows += "\n";
    }
    if (rows.empty()) return "";
    std::string text =
        "Corals, difference with minus without the change: mean of the runs (90 % of the runs; "
        "daily light in mol m-2, flow in cm/s,\nsand deposition in mg cm-2 a day, most sand in mg "
        "cm-2, fraction alive)\n";
    text += fmt::format("  {:<24}", "name");
    for (const Column& column : kColumns) text += fmt::format("{:>{}}", column.heading, kWidth);
    return text + "\n" + rows;
}

}  // namespace

std::string paired_text(const PairedRuns& paired_runs) {
    if (paired_runs.same())
        return fmt::format("No difference in any of {} runs: all are identical to the last bit.\n",
                           paired_runs.runs);
    std::string text = fmt::format(
        "Uncertainty of the difference ({} paired runs with the same random numbers; ranges "
        "contain 80 % of the runs)\n",
        paired_runs.runs);
    const std::size_t before = text.size();
    for (const PairedFlag& flag : paired_runs.flags)
        if (flag.differs()) text += flag_line(flag, paired_runs.runs);
    if (text.size() == before) text += "  The flags are the same in every run.\n";
    return text + colonies_text(paired_runs);
}

}  // namespace bedshade
