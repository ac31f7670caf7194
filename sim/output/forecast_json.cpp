#include <nlohmann/json.hpp>

#include "sim/input/diagnostic.h"
#include "sim/output/report.h"
#include "sim/season/calendar.h"

namespace bedshade {
namespace {

using nlohmann::ordered_json;

std::string culprit_name(const Layout& layout, const Flag& flag) {
    if (flag.culprit < 0) return "";
    const auto i = static_cast<std::size_t>(flag.culprit);
    switch (flag.culprit_kind) {
        case CulpritKind::colony:
            return layout.colonies[i].name;
        case CulpritKind::pump:
            return layout.pumps[i].name;
        case CulpritKind::inhabitant:
            return layout.inhabitants[i].name;
        case CulpritKind::lamp:
            return layout.lamps[i].name;
        case CulpritKind::water:
        case CulpritKind::action:
        case CulpritKind::self:
            break;
    }
    return "";
}

/// With one member the chance of a flag is 1 from its month on, and all its quantiles are that
/// month.
ordered_json flag_json(const Layout& layout, const Flag& flag) {
    const Colony& colony = layout.colonies[static_cast<std::size_t>(flag.colony)];
    ordered_json by_month = ordered_json::array();
    for (int m = 1; m <= layout.season.months; ++m) by_month.push_back(m >= flag.month ? 1.0 : 0.0);
    ordered_json detail = ordered_json::object();
    for (const auto& [name, value] : flag.detail) detail[name] = value;
    return {{"flag", to_string(flag.kind)},
            {"month", flag.month},
            {"date", date_of_season(layout.season.start, flag.day_d)},
            {"colony", colony.name},
            {"taxon", layout.taxon_of(colony).id},
            {"culprit", culprit_name(layout, flag)},
            {"culprit_kind", to_string(flag.culprit_kind)},
            {"share", flag.share},
            {"probability", 1.0},
            {"probability_by_month", by_month},
            {"month_p10", flag.month},
            {"month_p50", flag.month},
            {"month_p90", flag.month},
            {"detail", detail}};
}

ordered_json state_json(const Frame& frame, std::size_t i) {
    const ColonyFinding& found = frame.colonies[i];
    const ColonyState& state = frame.reef.colonies[i];
    return {{"ppfd_umol_m2_s", found.ppfd_mean_umol_m2_s},
            {"dli_mol_m2_d", found.dli_mol_m2_d},
            {"need_dli_mol_m2_d", found.need_dli_mol_m2_d},
            {"diameter_cm", 100.0 * mean_diameter_m(state.radius_m)},
            {"live", state.live_fraction}};
}

}  // namespace

std::string forecast_json(const Layout& layout, const ForecastSummary& summary, std::uint64_t seed,
                          const std::vector<std::string>& files,
                          const std::vector<std::string>& warnings) {
    ordered_json flags = ordered_json::array();
    for (const Flag& flag : summary.flags) flags.push_back(flag_json(layout, flag));
    ordered_json colonies = ordered_json::array();
    for (std::size_t i = 0; i < layout.colonies.size(); ++i) {
        const Colony& colony = layout.colonies[i];
        colonies.push_back({{"name", colony.name},
                            {"taxon", layout.taxon_of(colony).id},
                            {"where", colony.on},
                            {"start", state_json(summary.first, i)},
                            {"end", state_json(summary.last, i)}});
    }
    ordered_json deeds = ordered_json::array();
    for (const EventRecord& deed : summary.deeds)
        deeds.push_back({{"date", date_of_season(layout.season.start, deed.day_d)},
                         {"kind", deed.kind},
                         {"text", deed.text}});
    const ordered_json document = {{"format", 1},
                                   {"layout", layout.path},
                                   {"months", layout.season.months},
                                   {"step_days", layout.season.step_d},
                                   {"seed", seed},
                                   {"members", 1},
                                   {"flags", flags},
                                   {"deeds", deeds},
                                   {"colonies", colonies},
                                   {"files", files},
                                   {"warnings", warnings}};
    // Names may hold any bytes a file held: what is not UTF-8 is replaced rather than refused.
    return document.dump(2, ' ', false, ordered_json::error_handler_t::replace) + "\n";
}

}  // namespace bedshade
