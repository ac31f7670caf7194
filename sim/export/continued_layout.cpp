#include "sim/export/continued_layout.h"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>
#include <optional>
#include <sstream>
#include <toml++/toml.h>

#include "model/reef/layout.h"

#include "sim/base/calendar.h"
#include "sim/base/flag.h"

namespace bedshade {
namespace {

template <class Values>
std::string lengths(const Values& values_m) {
    std::string text;
    for (const double value_m : values_m) text += fmt::format("{} ", value_m);
    return text + "m";
}

toml::table lost_of(const TissueLost& lost) {
    return toml::table{{"to_darkness", lost.to_darkness},
                       {"to_sand", lost.to_sand},
                       {"to_stings", lost.to_stings},
                       {"to_overgrowth", lost.to_overgrowth},
                       {"to_dwellers", lost.to_infauna}};
}

toml::table now_of(const ColonyState& state) {
    return toml::table{{"present", state.present},
                       {"stage", to_string(state.stage)},
                       {"position", lengths(state.position_m)},
                       {"outline", lengths(state.radius_m)},
                       {"height", fmt::format("{} m", state.height_m)},
                       {"at_glass", state.touching.glass},
                       {"at_surface", state.touching.surface},
                       {"at_size_limit", state.touching.size_limit},
                       {"live", state.live_fraction},
                       {"saturation", state.saturation_umol_m2_s},
                       {"reserve", state.reserve},
                       {"sand", state.sand_kg_m2},
                       {"sand_over", state.sand_over_d},
                       {"grows_from_day", state.settled_at_d},
                       {"lost", lost_of(state.lost)}};
}

void put_neighbours(const ColonyCheckpoint& colony, toml::table& now) {
    toml::array touches;
    for (const auto& [other, day_d] : colony.touched_since_d)
        touches.push_back(toml::table{{"colony", other}, {"since_day", day_d}});
    if (!touches.empty()) now.insert("touches", std::move(touches));
    if (!colony.stung_by.empty()) {
        now.insert("stung_by", colony.stung_by);
        now.insert("by_chemistry", colony.by_chemistry);
    }
    if (!colony.overgrown_by.empty()) now.insert("overgrown_by", colony.overgrown_by);
}

void put_flags(const ColonyCheckpoint& colony, toml::table& now) {
    toml::array raised;
    for (const FlagKind kind : kFlagKinds)
        if ((colony.raised & (1U << static_cast<unsigned>(kind))) != 0U)
            raised.push_back(to_string(kind));
    if (!raised.empty()) now.insert("raised", std::move(raised));
    if (colony.mean_net_carbon) {
        const auto& [net, baseline, uninhibited] = *colony.mean_net_carbon;
        now.insert("mean_net_carbon", toml::array{net, baseline, uninhibited});
    }
    if (colony.too_slow_since_d >= 0.0) now.insert("too_slow_since_day", colony.too_slow_since_d);
    if (colony.too_fast_since_d >= 0.0) now.insert("too_fast_since_day", colony.too_fast_since_d);
    if (colony.placed_m) now.insert("placed_at", lengths(*colony.placed_m));
}

toml::table now_of(const ColonyCheckpoint& colony) {
    toml::table now = now_of(colony.state);
    put_neighbours(colony, now);
    put_flags(colony, now);
    return now;
}

void put_season(const Checkpoint& checkpoint, toml::table& season) {
    constexpr int kMoreMonths = 12;
    const auto reached = static_cast<int>(std::ceil(checkpoint.day_d / kDaysPerMonth));
    const int months = season["months"].value_or(Season{}.months);
    season.insert_or_assign("from_day", checkpoint.day_d);
    season.insert_or_assign("seed", static_cast<std::int64_t>(checkpoint.seed));
    season.insert_or_assign("member", checkpoint.member);
    season.insert_or_assign("months", months > reached ? months : reached + kMoreMonths);
}

std::string heading(const toml::table& season, const Checkpoint& checkpoint) {
    const auto date = season["start"].value<toml::date>().value();
    const CalendarDay start = calendar_day(date.year, date.month, date.day).value();
    return fmt::format(
        "# Written by `bedshade export --to layout`: a run that began on {} and continues from "
        "{}.\n"
        "# Days and months are counted from its start. `now` is how a coral stands on that day;\n"
        "# what stands outside `now` is how it was set up.\n",
        to_string(start), date_at(start, checkpoint.day_d));
}

}  // namespace

std::string continued_layout_text(const RunProvenance& facts, const Checkpoint& checkpoint,
                                  const std::string& traits_file) {
    toml::table table = toml::parse(facts.layout_text);
    if (!traits_file.empty()) table.insert_or_assign("traits", toml::array{traits_file});
    toml::table& season = *table["season"].as_table();
    put_season(checkpoint, season);
    if (auto* colonies = table["colony"].as_array())
        for (std::size_t i = 0; i < checkpoint.colonies.size(); ++i)
            (*colonies)[i].as_table()->insert_or_assign("now", now_of(*checkpoint.colonies[i]));
    std::ostringstream out;
    out << heading(season, checkpoint) << table << '\n';
    return out.str();
}

}  // namespace bedshade
