#include <cmath>
#include <nlohmann/json.hpp>

#include "sim/arrange/arrange_report.h"
#include "sim/base/calendar.h"
#include "sim/base/plain_text.h"

namespace bedshade {
namespace {

using nlohmann::ordered_json;

ordered_json finite(double value) {
    return std::isfinite(value) ? ordered_json(value) : ordered_json(nullptr);
}

ordered_json site_json(const StandingSite& site) {
    return {{"on", site.on},
            {"position_cm", {100.0 * site.at_m.x(), 100.0 * site.at_m.y(), 100.0 * site.at_m.z()}}};
}

ordered_json score_json(const Layout& layout, const Score& score) {
    ordered_json colonies = ordered_json::array();
    for (std::size_t i = 0; i < score.colonies.size(); ++i)
        colonies.push_back({{"name", layout.colonies[i].name},
                            {"margin", finite(score.colonies[i].value)},
                            {"of", to_string(score.colonies[i].kind)},
                            {"month", month_of_day(score.colonies[i].day_d)}});
    return {{"worst_margin", finite(score.value())}, {"colonies", colonies}};
}

ordered_json pair_json(const ScorePair& pair) {
    return {{"as_given", finite(pair.given.value())},
            {"as_arranged", finite(pair.arranged.value())}};
}

}  // namespace

std::string arrange_json(const Layout& layout, const ArrangeOptions& options,
                         const ArrangeAdvice& advice, const std::vector<std::string>& files,
                         const std::vector<std::string>& warnings) {
    ordered_json moved = ordered_json::array(), fresh = ordered_json::array(),
                 at_random = ordered_json::array();
    for (const Moved& m : advice.moved)
        moved.push_back({{"colony", layout.colonies[static_cast<std::size_t>(m.colony)].name},
                         {"from", site_json(m.from)},
                         {"to", site_json(m.to)}});
    for (const ScorePair& pair : advice.fresh) fresh.push_back(pair_json(pair));
    for (const double value : advice.at_random) at_random.push_back(finite(value));
    ordered_json gain = nullptr, held_back = nullptr;
    if (advice.fresh.size() > 1) {
        const PairedGain paired = paired_gain(advice.fresh);
        gain = {{"mean", paired.mean}, {"low", paired.low}, {"high", paired.high}};
    }
    if (advice.held_back.colony >= 0)
        held_back = {
            {"colony", layout.colonies[static_cast<std::size_t>(advice.held_back.colony)].name},
            {"spots_tried_in_vain", advice.held_back.tries}};
    const ordered_json document = {
        {"format", 1},
        {"layout", layout.path},
        {"months", layout.season.months},
        {"seed", options.seed},
        {"fresh_seed", options.seed + 1},
        {"moved", moved},
        {"as_given", score_json(layout, advice.best_estimate.given)},
        {"as_arranged", score_json(layout, advice.best_estimate.arranged)},
        {"by_lot", at_random},
        {"fresh", fresh},
        {"fresh_gain", gain},
        {"held_back_by", held_back},
        {"steps_halved", pair_json(advice.fine)},
        {"search_forecasts", advice.searched},
        {"forecasts", advice.work},
        {"files", files},
        {"warnings", warnings}};
    return json_text(document);
}

}  // namespace bedshade
