#include <nlohmann/json.hpp>

#include "sim/base/calendar.h"
#include "sim/base/plain_text.h"
#include "sim/trim/cut_flags.h"
#include "sim/trim/trim_report.h"

namespace bedshade {
namespace {

using nlohmann::ordered_json;

const std::string& name_of(const Layout& layout, int colony) {
    return layout.colonies[static_cast<std::size_t>(colony)].name;
}

ordered_json cut_json(const Layout& layout, const TrimAdvice& advice, const Cut& cut,
                      double fragment_m) {
    ordered_json json = {
        {"month", last_month_before(cut.day_d + 1.0)},
        {"date", date_at(layout.season.start, cut.day_d)},
        {"colony", name_of(layout, cut.colony)},
        {"taxon", layout.taxon_of(layout.colonies[static_cast<std::size_t>(cut.colony)]).id},
        {"to_cm", 100.0 * cut.to_m},
        {"before_cm", nullptr},
        {"area_cm2", 0.0},
        {"fragments", 0}};
    for (const CutDone& done : advice.best_estimate.cuts) {
        if (done.colony != cut.colony || done.day_d != cut.day_d) continue;
        json["before_cm"] = 100.0 * done.before_m;
        json["area_cm2"] = 1e4 * done.cut_m2;
        json["fragments"] = fragments_of(done.cut_m2, fragment_m);
    }
    return json;
}

ordered_json arm_json(const Layout& layout, const TrimArm& arm) {
    const int runs = static_cast<int>(arm.runs.size()), clear = arm.clear();
    const ShareInterval share = share_interval(clear, runs);
    return {{"runs", runs},
            {"clear", clear},
            {"clear_share_low", share.low},
            {"clear_share_high", share.high},
            {"without_any_flag_on_the_bed", arm.unflagged(layout)},
            {"mean_cuts", arm.mean_cuts()},
            {"mean_area_cm2", 1e4 * arm.mean_cut_m2()}};
}

ordered_json left_alone_json(const Layout& layout, const TrimAdvice& advice) {
    ordered_json all = ordered_json::array();
    for (const LeftAlone& left : advice.left_alone)
        all.push_back({{"flag", to_string(left.flag.kind)},
                       {"colony", name_of(layout, left.flag.colony)},
                       {"fresh_runs_without_cuts", left.without},
                       {"fresh_runs_with_plan", left.planned},
                       {"reason", why_no_cut_helps(layout, left.flag)}});
    return all;
}

ordered_json unprevented_json(const Layout& layout, const TrimAdvice& advice) {
    ordered_json all = ordered_json::array();
    for (const auto& [member, flag] : advice.plan.unprevented)
        all.push_back({{"member", member},
                       {"flag", to_string(flag.kind)},
                       {"month", flag.month},
                       {"colony", name_of(layout, flag.colony)}});
    return all;
}

}  // namespace

std::string trim_json(const Layout& layout, const TrimOptions& options, const TrimAdvice& advice,
                      double fragment_m, const std::vector<std::string>& files,
                      const std::vector<std::string>& warnings) {
    ordered_json cuts = ordered_json::array();
    for (const Cut& cut : advice.plan.cuts)
        cuts.push_back(cut_json(layout, advice, cut, fragment_m));
    const ordered_json document = {{"format", 1},
                                   {"layout", layout.path},
                                   {"months", layout.season.months},
                                   {"seed", options.seed},
                                   {"members", advice.plan.members},
                                   {"fresh_seed", options.seed + 1},
                                   {"confidence", options.aim.confidence},
                                   {"smallest", options.aim.smallest},
                                   {"reached", advice.plan.reached},
                                   {"cuts", cuts},
                                   {"fragment_cm", 100.0 * fragment_m},
                                   {"not_kept_away", unprevented_json(layout, advice)},
                                   {"fresh",
                                    {{"no_cuts", arm_json(layout, advice.no_cuts)},
                                     {"plan", arm_json(layout, advice.planned)},
                                     {"quarterly", arm_json(layout, advice.quarterly)}}},
                                   {"left_alone", left_alone_json(layout, advice)},
                                   {"forecasts", advice.work},
                                   {"files", files},
                                   {"warnings", warnings}};
    return json_text(document);
}

}  // namespace bedshade
