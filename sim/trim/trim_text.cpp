#include <algorithm>
#include <cmath>
#include <fmt/format.h>

#include "sim/advice/change_text.h"
#include "sim/base/calendar.h"
#include "sim/base/text.h"
#include "sim/report/report.h"
#include "sim/trim/cut_flags.h"
#include "sim/trim/trim_report.h"

namespace bedshade {
namespace {

const Colony& colony_of(const Layout& layout, int index) {
    return layout.colonies[static_cast<std::size_t>(index)];
}

std::string when_text(const Layout& layout, double day_d) {
    return fmt::format("month {} ({})", last_month_before(day_d + 1.0),
                       date_at(layout.season.start, day_d));
}

std::string plural(int count, const char* word) {
    return fmt::format("{} {}{}", count, word, count == 1 ? "" : "s");
}

/// The result of a cut in the best estimate.
CutDone done_of(const TrimAdvice& advice, const Cut& cut) {
    for (const CutDone& done : advice.best_estimate.cuts)
        if (done.colony == cut.colony && done.day_d == cut.day_d) return done;
    return {cut.colony, cut.day_d, 0.0, 0.0, 0.0};
}

std::string cut_line(const Layout& layout, const TrimAdvice& advice, const Cut& cut,
                     double fragment_m) {
    const Colony& colony = colony_of(layout, cut.colony);
    const CutDone done = done_of(advice, cut);
    std::string text = fmt::format("  {}: cut '{}' ({}) back to {:.1f} cm",
                                   when_text(layout, cut.day_d), escape_control(colony.name),
                                   short_name(layout.taxon_of(colony)), 100.0 * cut.to_m);
    if (done.cut_m2 > 0.0)
        text += fmt::format(" from about {:.1f} cm: {:.0f} cm2 are cut off, {}",
                            100.0 * done.before_m, 1e4 * done.cut_m2,
                            plural(fragments_of(done.cut_m2, fragment_m), "fragment"));
    else
        text += ", if it has grown past that by then";
    // Where handling itself can do harm, the caution stands on the same line.
    const std::string& caution = layout.taxon_of(colony).caution;
    if (!caution.empty()) text += fmt::format(". {}", escape_control(caution));
    return text + "\n";
}

std::string plan_text(const Layout& layout, const TrimOptions& options, const TrimAdvice& advice,
                      double fragment_m) {
    const TrimPlan& plan = advice.plan;
    const std::string runs =
        fmt::format("{} of the {} planning runs",
                    plan.members - static_cast<int>(plan.unprevented.size()), plan.members);
    if (plan.cuts.empty() && plan.reached)
        return fmt::format(
            "No cut is needed: {} have no flag on the bed that a cut could prevent.\n", runs);
    std::string text;
    if (plan.cuts.empty())
        text = "No cut was found that helps the bed.\n";
    else if (plan.reached)
        text = fmt::format("{} keep{} the bed clear in {}.\n",
                           plural(static_cast<int>(plan.cuts.size()), "cut"),
                           plan.cuts.size() == 1 ? "s" : "", runs);
    else
        text = fmt::format(
            "The best cuts found keep the bed clear in {}: too few to be sure of {:.0f} %.\n", runs,
            100.0 * options.aim.confidence);
    for (const Cut& cut : plan.cuts) text += cut_line(layout, advice, cut, fragment_m);
    if (!plan.cuts.empty())
        text += fmt::format(
            "  Sizes at the cut and areas are those of the best estimate; a fragment is {:.1f} by "
            "{:.1f} cm, seen from above.\n",
            100.0 * fragment_m, 100.0 * fragment_m);
    return text;
}

std::string arm_line(const Layout& layout, const char* name, const TrimArm& arm,
                     double fragment_m) {
    const int runs = static_cast<int>(arm.runs.size()), clear = arm.clear();
    const ShareInterval share = share_interval(clear, runs);
    return fmt::format(
        "  {:<26} {:>3} of {:<3} {:>3.0f} to {:>3.0f} % {:>9} of {:<3} {:>8.1f} {:>8.0f} {:>10}\n",
        name, clear, runs, 100.0 * share.low, 100.0 * share.high, arm.unflagged(layout), runs,
        arm.mean_cuts(), 1e4 * arm.mean_cut_m2(), fragments_of(arm.mean_cut_m2(), fragment_m));
}

std::string comparison_table(const Layout& layout, const TrimOptions& options,
                             const TrimAdvice& advice, double fragment_m) {
    std::string text = fmt::format(
        "Tested in {} new runs (seed {}), which were not used to choose cuts\n"
        "  {:<26} {:^10} {:^13} {:^16} {:>8} {:>8} {:>10}\n",
        options.fresh, options.seed + 1, "", "clear", "90 % interval", "no flag at all", "cuts",
        "cm2 off", "fragments");
    text += arm_line(layout, "no cuts", advice.no_cuts, fragment_m);
    text += arm_line(layout, "this plan", advice.planned, fragment_m);
    text += arm_line(layout, "everything, every 3 months", advice.quarterly, fragment_m);
    return text +
           "  clear: no flag on the bed that a cut could prevent; cuts and areas are means\n";
}

/// A share of the fresh runs, with its 90 % interval.
std::string share_text(int count, int runs) {
    const ShareInterval share = share_interval(count, runs);
    return fmt::format("{:.0f} % ({:.0f} to {:.0f} %)",
                       100.0 * static_cast<double>(count) / static_cast<double>(runs),
                       100.0 * share.low, 100.0 * share.high);
}

/// What may be counted on, by the fresh runs alone.
std::string claim_text(const Layout& layout, const TrimOptions& options, const TrimAdvice& advice) {
    const int clear = advice.planned.clear();
    std::string text = fmt::format(
        "  Expect {} of the runs to be clear; {:.0f} % were requested. No flag at all is raised on "
        "the bed in {}.",
        share_text(clear, options.fresh), 100.0 * options.aim.confidence,
        share_text(advice.planned.unflagged(layout), options.fresh));
    if (clear < options.aim.confidence * options.fresh)
        text +=
            " The new runs do worse than requested: plans found with more --members and "
            "--forecasts are more reliable.";
    return text + "\n";
}

std::string left_alone_text(const Layout& layout, const TrimOptions& options,
                            const TrimAdvice& advice) {
    if (advice.left_alone.empty()) return "";
    std::string text = "\nFlags that no cut can prevent, not counted against the plan (new runs)\n";
    for (const LeftAlone& left : advice.left_alone)
        text += fmt::format("  '{}' {}, in {} of {} without cuts, {} with the plan: {}\n",
                            escape_control(colony_of(layout, left.flag.colony).name),
                            to_string(left.flag.kind), left.without, options.fresh, left.planned,
                            why_no_cut_helps(layout, left.flag));
    return text +
           "  Where no cut helps, another position may: see bedshade place and bedshade arrange.\n";
}

std::string unprevented_text(const Layout& layout, const TrimAdvice& advice) {
    if (advice.plan.unprevented.empty()) return "";
    std::string text = "\nNot prevented in planning runs\n";
    for (const auto& [member, flag] : advice.plan.unprevented)
        text += fmt::format("  run {}, {}\n", member, flag_text(layout, flag));
    return text;
}

}  // namespace

int fragments_of(double cut_m2, double fragment_m) {
    return static_cast<int>(std::floor(cut_m2 / (fragment_m * fragment_m) + 1e-9));
}

std::string trim_text(const Layout& layout, const TrimOptions& options, const TrimAdvice& advice,
                      double fragment_m) {
    std::string text = plan_text(layout, options, advice, fragment_m) + "\n";
    text += comparison_table(layout, options, advice, fragment_m);
    text += claim_text(layout, options, advice);
    text += unprevented_text(layout, advice);
    text += left_alone_text(layout, options, advice);
    text += fmt::format("\nWork: {:.0f} forecasts.\n", advice.work);
    return text;
}

std::string trim_change(const Layout& layout, const TrimAdvice& advice) {
    if (advice.plan.cuts.empty()) return "# No cut is needed, or none was found that helps.\n";
    std::string text;
    for (const Cut& cut : advice.plan.cuts)
        text += fmt::format(
            "[[action]]\non = {}  # month {}\ndo = \"trim\"\ncolony = {}\nto = \"{:.1f} cm\"\n",
            date_at(layout.season.start, cut.day_d), last_month_before(cut.day_d + 1.0),
            toml_quoted(colony_of(layout, cut.colony).name), 100.0 * cut.to_m);
    return text;
}

}  // namespace bedshade
