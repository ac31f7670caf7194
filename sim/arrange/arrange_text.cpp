#include <algorithm>
#include <cmath>
#include <fmt/format.h>

#include "sim/advice/change_text.h"
#include "sim/arrange/arrange_report.h"
#include "sim/base/calendar.h"
#include "sim/base/text.h"
#include "sim/report/report.h"
#include "sim/verdict/ensemble.h"

namespace bedshade {
namespace {

const Colony& colony_of(const Layout& layout, int index) {
    return layout.colonies[static_cast<std::size_t>(index)];
}

std::string site_text(const StandingSite& site) {
    const std::string where = site.on == "sand" ? "on the sand at"
                              : site.on.empty()
                                  ? "at"
                                  : fmt::format("on '{}' at", escape_control(site.on));
    return fmt::format("{} {:.4g} {:.4g} cm", where, 100.0 * site.at_m.x(), 100.0 * site.at_m.y());
}

/// "-0.12, light of 'disc' in month 24"
std::string score_text(const Layout& layout, const Score& score) {
    if (score.worst < 0) return "no limit is near";
    const WorstMargin& worst = score.colonies[static_cast<std::size_t>(score.worst)];
    return fmt::format("{:+.2f} ({} of '{}', month {})", worst.value, to_string(worst.kind),
                       escape_control(colony_of(layout, score.worst).name),
                       month_of_day(worst.day_d));
}

std::string moves_text(const Layout& layout, const ArrangeAdvice& advice) {
    if (advice.moved.empty())
        return fmt::format("No better position was found in {} forecasts.\n", advice.searched);
    std::string text = fmt::format("{} coral{} moved (centres of their bases)\n",
                                   advice.moved.size(), advice.moved.size() == 1 ? " is" : "s are");
    for (const Moved& moved : advice.moved) {
        const Colony& colony = colony_of(layout, moved.colony);
        const Taxon& taxon = layout.taxon_of(colony);
        text += fmt::format("  '{}' ({}): from {} to {}", escape_control(colony.name),
                            short_name(taxon), site_text(moved.from), site_text(moved.to));
        // Where handling itself can do harm, the caution stands on the same line.
        if (!taxon.caution.empty()) text += fmt::format(". {}", escape_control(taxon.caution));
        text += "\n";
    }
    return text;
}

std::string lot_text(const ArrangeAdvice& advice) {
    if (advice.at_random.empty()) return "";
    const double best = *std::max_element(advice.at_random.begin(), advice.at_random.end());
    const auto better =
        std::count_if(advice.at_random.begin(), advice.at_random.end(),
                      [&](double value) { return value > advice.best_estimate.arranged.value(); });
    return fmt::format(
        "  {} random layouts     {:+.2f} at best; {} of them better than as arranged\n",
        advice.at_random.size(), best, better);
}

std::string fresh_text(const ArrangeOptions& options, const ArrangeAdvice& advice) {
    const FreshSummary fresh = fresh_summary(advice);
    if (fresh.runs == 0) return "";
    const ShareInterval share = share_interval(fresh.better, fresh.runs);
    std::string text = fmt::format(
        "In {} new runs (seed {}) it is better in {} (90 % interval {:.0f} to {:.0f} %); the "
        "median is {:+.2f} as given, {:+.2f} as arranged.\n",
        fresh.runs, options.seed + 1, fresh.better, 100.0 * share.low, 100.0 * share.high,
        fresh.given, fresh.arranged);
    if (fresh.runs < 2) return text;
    const PairedGain gain = paired_gain(advice.fresh);
    return text +
           fmt::format("The mean gain of a run is {:+.2f} (90 % interval {:+.2f} to {:+.2f}){}.\n",
                       gain.mean, gain.low, gain.high,
                       gain.low > 0.0 ? "" : "; whether it gains at all is uncertain");
}

/// Which coral, and why, keeps it from being better still.
std::string held_back_text(const Layout& layout, const ArrangeOptions& options,
                           const ArrangeAdvice& advice) {
    const HeldBack& held = advice.held_back;
    if (held.colony < 0) return "";
    const auto may_move = [&](int colony) {
        return std::count(options.movable.begin(), options.movable.end(), colony) > 0;
    };
    const auto i = static_cast<std::size_t>(held.colony);
    const Score& score = advice.best_estimate.arranged;
    std::string text =
        fmt::format("The limit now is the {} of '{}'", to_string(score.colonies[i].kind),
                    escape_control(colony_of(layout, held.colony).name));
    if (!may_move(held.colony)) text += ", which may not be moved";
    const int by = score.cause_of[i];
    if (by >= 0)
        text += fmt::format("; the cause is '{}'{}", escape_control(colony_of(layout, by).name),
                            may_move(by) ? "" : ", which may not be moved");
    if (held.tries > 0)
        return text + fmt::format(". {} other spots were tried without success.\n", held.tries);
    return text + (may_move(held.colony) || (by >= 0 && may_move(by))
                       ? ". More --forecasts might find it a better spot.\n"
                       : ".\n");
}

}  // namespace

FreshSummary fresh_summary(const ArrangeAdvice& advice) {
    FreshSummary summary;
    std::vector<double> given, arranged;
    for (const ScorePair& pair : advice.fresh) {
        given.push_back(pair.given.value());
        arranged.push_back(pair.arranged.value());
        summary.better += arranged.back() > given.back() ? 1 : 0;
    }
    summary.runs = static_cast<int>(given.size());
    if (given.empty()) return summary;
    const auto middle = [](std::vector<double>& values) {
        std::sort(values.begin(), values.end());
        return values[values.size() / 2];
    };
    summary.given = middle(given);
    summary.arranged = middle(arranged);
    return summary;
}

std::string arrange_text(const Layout& layout, const ArrangeOptions& options,
                         const ArrangeAdvice& advice) {
    std::string text = moves_text(layout, advice);
    text +=
        "\nWorst margin of any coral over the run (0: at its limit; 0.1: about 10 % or 5 mm to "
        "spare)\n";
    text += fmt::format("  as given               {}\n",
                        score_text(layout, advice.best_estimate.given));
    text += fmt::format("  as arranged            {}\n",
                        score_text(layout, advice.best_estimate.arranged));
    text += lot_text(advice);
    text += fmt::format("  steps halved           {:+.2f} as given, {:+.2f} as arranged\n",
                        advice.fine.given.value(), advice.fine.arranged.value());
    return text + fresh_text(options, advice) + held_back_text(layout, options, advice) +
           fmt::format("\nWork: {:.0f} forecasts, {} of them in the search.\n", advice.work,
                       advice.searched);
}

std::string arrange_change(const Layout& layout, const ArrangeAdvice& advice) {
    if (advice.moved.empty()) return "# No better position was found.\n";
    std::string text;
    for (const Moved& moved : advice.moved) {
        const Vec3 at_cm = 100.0 * moved.to.at_m;
        text += fmt::format("[[colony]]\nname = {}\n",
                            toml_quoted(colony_of(layout, moved.colony).name));
        text += fmt::format("on = {}\nposition = \"{:.6g} {:.6g} cm\"\n", toml_quoted(moved.to.on),
                            at_cm.x(), at_cm.y());
    }
    return text;
}

}  // namespace bedshade
