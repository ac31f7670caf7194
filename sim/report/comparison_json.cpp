#include <nlohmann/json.hpp>

#include "sim/base/calendar.h"
#include "sim/base/plain_text.h"
#include "sim/base/quantile.h"
#include "sim/report/comparison_report.h"
#include "sim/report/report.h"
#include "sim/verdict/bed_change.h"

namespace bedshade {
namespace {

using nlohmann::ordered_json;

ordered_json flag_json(const Arm& arm, const std::optional<Flag>& flag) {
    if (!flag) return nullptr;
    return {{"month", flag->month},
            {"date", date_at(arm.layout->season.start, flag->day_d)},
            {"share", flag->share},
            {"text", flag_text(*arm.layout, *flag)}};
}

ordered_json change_json(const Arm& before, const Arm& after, const FlagChange& change) {
    const Arm& holder = change.before ? before : after;
    const Flag& flag = change.before ? *change.before : *change.after;
    const char* what = !change.before ? "new" : !change.after ? "gone" : "moved";
    return {{"change", what},
            {"flag", to_string(flag.kind)},
            {"colony", holder.layout->colonies[static_cast<std::size_t>(flag.colony)].name},
            {"without", flag_json(before, change.before)},
            {"with", flag_json(after, change.after)}};
}

ordered_json season_json(const std::optional<ColonyMeans>& season) {
    if (!season) return nullptr;
    return {{"days", season->days},
            {"dli_mol_m2_d", season->dli_mol_m2_d},
            {"flow_speed_cm_s", 100.0 * season->flow_speed_m_s},
            {"fallout_mg_cm2_d", 100.0 * season->deposition_kg_m2_d},
            {"most_sand_mg_cm2", 100.0 * season->most_sand_kg_m2},
            {"end_diameter_cm", 100.0 * season->end_diameter_m},
            {"end_live", season->end_live_fraction}};
}

ordered_json bed_json(const Arm& arm) {
    return {{"nx", arm.grid.nx},
            {"ny", arm.grid.ny},
            {"ppfd_umol_m2_s", arm.bed.ppfd_umol_m2_s},
            {"shear_stress_Pa", arm.bed.shear_stress_Pa},
            {"fallout_kg_m2_d", arm.bed.deposition_kg_m2_d},
            {"sand_drift_mm_month",
             net_change_mm_month(arm.layout->substrate, arm.bed.net_change_kg_m2_d)}};
}

ordered_json shift_json(const PairedFlag& flag) {
    if (flag.shift_months.empty()) return nullptr;
    return {{"runs", flag.shift_months.size()},
            {"p10", quantile(flag.shift_months, 0.1)},
            {"p50", quantile(flag.shift_months, 0.5)},
            {"p90", quantile(flag.shift_months, 0.9)}};
}

ordered_json paired_json(const PairedRuns& paired_runs) {
    ordered_json flags = ordered_json::array(), colonies = ordered_json::array();
    for (const PairedFlag& flag : paired_runs.flags)
        flags.push_back({{"flag", to_string(flag.kind)},
                         {"colony", flag.colony},
                         {"gained", flag.gained},
                         {"lost", flag.lost},
                         {"both", flag.shift_months.size()},
                         {"shift_months", shift_json(flag)}});
    for (const PairedColony& colony : paired_runs.colonies) {
        ordered_json json = {{"name", colony.name}};
        for (std::size_t f = 0; f < kPairedQuantities.size(); ++f)
            json[kPairedQuantities[f].name] = {{"mean", colony.difference[f].mean},
                                               {"p05", colony.difference[f].low},
                                               {"p95", colony.difference[f].high}};
        colonies.push_back(std::move(json));
    }
    return {{"members", paired_runs.runs},
            {"same", paired_runs.same()},
            {"flags", flags},
            {"differences", colonies}};
}

}  // namespace

std::string comparison_json(const Arm& before, const Arm& after, const Comparison& difference,
                            std::uint64_t seed, const std::vector<std::string>& warnings,
                            const PairedRuns* members) {
    ordered_json flags = ordered_json::array(), colonies = ordered_json::array();
    for (const FlagChange& change : difference.flags)
        flags.push_back(change_json(before, after, change));
    for (const ColonyChange& change : difference.colonies)
        colonies.push_back({{"name", change.name},
                            {"without", season_json(change.before)},
                            {"with", season_json(change.after)}});
    ordered_json document = {{"format", 1},    {"layout", before.layout->path},
                             {"seed", seed},   {"same", difference.same()},
                             {"flags", flags}, {"colonies", colonies}};
    if (difference.bed_differs)
        document["bed"] = {{"without", bed_json(before)}, {"with", bed_json(after)}};
    if (members != nullptr) document["ensemble"] = paired_json(*members);
    document["warnings"] = warnings;
    return json_text(document);
}

}  // namespace bedshade
