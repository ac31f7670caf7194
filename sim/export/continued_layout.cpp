#include "sim/export/continued_layout.h"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>
#include <optional>
#include <sstream>
#include <toml++/toml.h>

#include "model/reef/layout.h"

#include "sim/base/calendar.h"
#include "sim/input/layout/memory_text.h"
#include "sim/input/text/text_file.h"
#include "sim/verdict/flag.h"

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
                       {"sand_transmittance", state.sand_transmittance},
                       {"sand_over", state.sand_over_d},
                       {"grows_from_day", state.settled_at_d},
                       {"lost", lost_of(state.lost)}};
}

void put_neighbours(const ColonySoFar& colony, toml::table& now) {
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

toml::table now_of(const ColonySoFar& colony, bool with_memory) {
    toml::table now = now_of(colony.state);
    put_neighbours(colony, now);
    toml::array raised;
    for (const FlagKind kind : kFlagKinds)
        if ((colony.raised & (1U << static_cast<unsigned>(kind))) != 0U)
            raised.push_back(to_string(kind));
    if (!raised.empty()) now.insert("raised", std::move(raised));
    if (with_memory && colony.memory) now.insert("memory", memory_text(*colony.memory));
    return now;
}

void put_season(const SeasonSoFar& so_far, bool with_memory, toml::table& season) {
    constexpr int kMoreMonths = 12;
    const auto reached = static_cast<int>(std::ceil(so_far.day_d / kDaysPerMonth));
    const int months = season["months"].value_or(Season{}.months);
    season.insert_or_assign("from_day", so_far.day_d);
    season.insert_or_assign("months", months > reached ? months : reached + kMoreMonths);
    season.erase("memory");
    if (with_memory) season.insert("memory", memory_text(so_far.tank));
}

std::string heading(const toml::table& season, const RunProvenance& facts, double day_d) {
    const auto date = season["start"].value<toml::date>().value();
    const CalendarDay start = calendar_day(date.year, date.month, date.day).value();
    return fmt::format(
        "# Written by `bedshade export --to layout` from a run with seed {}: a season that began\n"
        "# on {} and goes on from {}. Days and months are counted from its start.\n"
        "# `now` is how a coral stands by then, and what stands outside it is how it was set.\n"
        "# A `memory` is for the program; without it light is traced anew.\n"
        "# Run it with --seed {} to go on as that run did.\n",
        facts.seed, to_string(start), date_at(start, day_d), facts.seed);
}

std::string text_of(toml::table table, const RunProvenance& facts, const SeasonSoFar& so_far,
                    bool with_memory) {
    toml::table& season = *table["season"].as_table();
    put_season(so_far, with_memory, season);
    if (auto* colonies = table["colony"].as_array())
        for (std::size_t i = 0; i < so_far.colonies.size(); ++i)
            (*colonies)[i].as_table()->insert_or_assign("now",
                                                        now_of(so_far.colonies[i], with_memory));
    std::ostringstream out;
    out << heading(season, facts, so_far.day_d) << table << '\n';
    return out.str();
}

}  // namespace

std::string continued_layout_text(const RunProvenance& facts, const SeasonSoFar& so_far,
                                  const std::string& traits_file) {
    toml::table table = toml::parse(facts.layout_text);
    if (!traits_file.empty()) table.insert_or_assign("traits", toml::array{traits_file});
    std::string text = text_of(table, facts, so_far, true);
    if (text.size() > kLargestTextFile) text = text_of(std::move(table), facts, so_far, false);
    return text;
}

}  // namespace bedshade
