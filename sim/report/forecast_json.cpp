#include <algorithm>
#include <nlohmann/json.hpp>

#include "sim/base/calendar.h"
#include "sim/base/plain_text.h"
#include "sim/report/report.h"
#include "sim/run/reef_light.h"
#include "sim/verdict/bed_change.h"

namespace bedshade {
namespace {

using nlohmann::ordered_json;

ordered_json month_or_null(const std::optional<int>& month) {
    return month ? ordered_json(*month) : ordered_json(nullptr);
}

/// What the month of a flag depends on most; null where no single quantity explains most of it.
ordered_json driver_json(const FlagSpread& spread, const Ensemble& ensemble) {
    const auto driver = main_driver(spread, ensemble.scores);
    if (!driver) return nullptr;
    return {{"quantity", ensemble.quantities[driver->quantity]},
            {"rank_correlation", driver->rank_correlation},
            {"first_order_index", driver->index.share},
            {"first_order_index_p05", driver->index.low()},
            {"first_order_index_p95", driver->index.high()}};
}

/// How often and when the members raise a flag, and what that depends on.
ordered_json spread_json(const FlagSpread& spread, const Ensemble& ensemble, int months) {
    const auto members = static_cast<double>(spread.month.size());
    return {{"probability", runs_with(spread) / members},
            {"probability_by_month", probability_by_month(spread, months)},
            {"month_p10", month_or_null(quantile_month(spread, 0.1))},
            {"month_p50", month_or_null(quantile_month(spread, 0.5))},
            {"month_p90", month_or_null(quantile_month(spread, 0.9))},
            {"main_driver", driver_json(spread, ensemble)}};
}

bool is_about(const FlagSpread& spread, const Flag& flag) {
    return flag.kind == spread.kind && flag.colony == spread.colony;
}

/// One flag: as the summary's run raised it, if it did, and as all members did.
ordered_json flag_json(const Layout& layout, const Flag* flag, const FlagSpread& spread,
                       const Ensemble& ensemble) {
    const Colony& colony = layout.colonies[static_cast<std::size_t>(spread.colony)];
    ordered_json json = {{"flag", to_string(spread.kind)}, {"month", nullptr}, {"date", nullptr}};
    json["colony"] = colony.name;
    json["taxon"] = layout.taxon_of(colony).id;
    ordered_json detail = ordered_json::object();
    if (flag != nullptr) {
        json["month"] = flag->month;
        json["date"] = date_at(layout.season.start, flag->day_d);
        json["culprit"] = culprit_name(layout, *flag);
        json["culprit_kind"] = to_string(flag->culprit_kind);
        json["share"] = flag->share;
        for (const auto& [name, value] : flag->detail) detail[name] = value;
    }
    json.update(spread_json(spread, ensemble, layout.season.months));
    json["detail"] = detail;
    return json;
}

/// The flags of the summary's run in their order, then those that only other members raised.
ordered_json flags_json(const Layout& layout, const std::vector<Flag>& flags,
                        const Ensemble& ensemble) {
    ordered_json json = ordered_json::array();
    for (const Flag& flag : flags)
        for (const FlagSpread& spread : ensemble.spreads)
            if (is_about(spread, flag)) json.push_back(flag_json(layout, &flag, spread, ensemble));
    for (const FlagSpread& spread : ensemble.spreads)
        if (std::none_of(flags.begin(), flags.end(),
                         [&](const Flag& flag) { return is_about(spread, flag); }))
            json.push_back(flag_json(layout, nullptr, spread, ensemble));
    return json;
}

ordered_json events_json(const Layout& layout, const std::vector<EventRecord>& events) {
    ordered_json json = ordered_json::array();
    for (const EventRecord& event : events)
        json.push_back({{"date", date_at(layout.season.start, event.day_d)},
                        {"kind", event.kind},
                        {"text", event.text}});
    return json;
}

ordered_json state_json(const Snapshot& snapshot, std::size_t i) {
    const ColonyObservation& found = snapshot.colonies[i];
    const ColonyState& state = snapshot.reef.colonies[i];
    return {{"ppfd_umol_m2_s", found.ppfd_mean_umol_m2_s},
            {"dli_mol_m2_d", found.dli_mol_m2_d},
            {"need_dli_mol_m2_d", found.need_dli_mol_m2_d},
            {"diameter_cm", 100.0 * mean_diameter_m(state.radius_m)},
            {"live", state.live_fraction}};
}

ordered_json site_json(const BedChangePoint& site) {
    return {{"x_cm", 100.0 * site.site_m.x()},
            {"y_cm", 100.0 * site.site_m.y()},
            {"mm_month", site.mm_month}};
}

/// Where sand leaves and piles up, by cell [y][x], rows one after another.
ordered_json net_change_json(const Layout& layout, const BedObservation& bed) {
    const BedGrid grid = bed_grid_of(layout.tank);
    const std::vector<double> mm_month =
        net_change_mm_month(layout.substrate, bed.net_change_kg_m2_d);
    const BedChange net_change = extremes_of(grid, mm_month);
    return {{"nx", grid.nx},
            {"ny", grid.ny},
            {"sand_drift_mm_month", mm_month},
            {"most_scoured", site_json(net_change.scoured)},
            {"most_filled", site_json(net_change.filled)}};
}

}  // namespace

std::string forecast_json(const Layout& layout, const ForecastSummary& summary, std::uint64_t seed,
                          int members, const Ensemble& ensemble,
                          const std::vector<std::string>& files,
                          const std::vector<std::string>& warnings) {
    ordered_json colonies = ordered_json::array();
    for (std::size_t i = 0; i < layout.colonies.size(); ++i) {
        const Colony& colony = layout.colonies[i];
        colonies.push_back({{"name", colony.name},
                            {"taxon", layout.taxon_of(colony).id},
                            {"where", colony.on},
                            {"start", state_json(summary.first, i)},
                            {"end", state_json(summary.last, i)}});
    }
    const ordered_json document = {{"format", 1},
                                   {"layout", layout.path},
                                   {"months", layout.season.months},
                                   {"step_days", layout.season.step_d},
                                   {"seed", seed},
                                   {"members", members},
                                   {"flags", flags_json(layout, summary.flags, ensemble)},
                                   {"deeds", events_json(layout, summary.applied_actions)},
                                   {"fusions", events_json(layout, summary.fusions)},
                                   {"colonies", colonies},
                                   {"bed", net_change_json(layout, summary.first.bed)},
                                   {"files", files},
                                   {"warnings", warnings}};
    return json_text(document);
}

}  // namespace bedshade
