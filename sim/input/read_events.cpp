// Readings of a light meter and the keeper's planned deeds.
#include <algorithm>
#include <fmt/format.h>
#include <utility>

#include "sim/input/diagnostic.h"
#include "sim/input/places.h"
#include "sim/input/sections.h"
#include "sim/season/calendar.h"

namespace bedshade {
namespace {

constexpr std::size_t kMostReadings = 10000;
constexpr std::size_t kMostActions = 10000;

void read_reading(TableReader& in, Draft& draft) {
    Reading reading;
    if (in.point("at", reading.at_m, Need::required)) in_water(in, "at", reading.at_m, draft);
    in.number("ppfd", reading.ppfd_umol_m2_s, {0.0, 5000.0}, "umol/m2/s", Need::required);
    CalendarDay on;
    if (in.date("on", on)) reading.on_d = season_day_of(draft.layout.season.start, on);
    in.choice<Sensor>("sensor", reading.sensor,
                      {{"planar", Sensor::planar}, {"scalar", Sensor::scalar}});
    draft.layout.readings.push_back(reading);
}

/// A date, or the month (from 1) on whose first day it happens.
void read_day(TableReader& in, Action& action, const Season& season) {
    if (in.has("on") == in.has("month"))
        in.problems().error(
            in.place(),
            in.name() + (in.has("on") ? " has both a date and a month" : " does not say when"),
            "give on = 2027-09-01, or month = 9");
    CalendarDay on;
    if (in.date("on", on)) {
        action.day_d = season_day_of(season.start, on);
        if (action.day_d < 0.0)
            in.error("on", fmt::format("{} lies before the season's start, {}", in.label("on"),
                                       to_string(season.start)));
    }
    int month = 1;
    if (in.whole_number("month", month, 1, 240)) action.day_d = (month - 1) * kDaysPerMonth;
    if (action.day_d > season.months * kDaysPerMonth)
        in.warn(in.has("on") ? "on" : "month",
                fmt::format("{} comes after the season's {} months", in.name(), season.months));
}

bool concerns_a_colony(Deed deed) {
    return deed == Deed::trim || deed == Deed::move || deed == Deed::add || deed == Deed::remove;
}

void read_colony_named(TableReader& in, Action& action, const Layout& layout) {
    const Need need = concerns_a_colony(action.deed) ? Need::required : Need::optional;
    if (!in.text("colony", action.colony, need)) return;
    std::vector<std::string> names;
    for (const auto& colony : layout.colonies) names.push_back(colony.name);
    if (std::find(names.begin(), names.end(), action.colony) != names.end()) return;
    const std::string near = nearest_name(action.colony, names);
    in.error("colony", fmt::format("there is no colony \"{}\"", printable(action.colony)),
             near.empty() ? near : fmt::format("did you mean \"{}\"?", printable(near)));
}

void read_target(TableReader& in, Action& action, const Draft& draft) {
    if (action.deed == Deed::trim) {
        double diameter_m = 0.0;
        if (in.quantity("to", diameter_m, kLength, {0.1, 500.0}, Need::required))
            action.to = diameter_m;
    } else if (action.deed == Deed::move) {
        Vec3 place_m = Vec3::Zero();
        if (!in.point("to", place_m, Need::required) || !in_water(in, "to", place_m, draft)) return;
        if (const Rock* rock = RockIndex(draft.layout.rocks).around(place_m))
            in.error("to", fmt::format("{} lies inside rock \"{}\"", in.label("to"),
                                       printable(rock->name)));
        action.to = place_m;
    } else {
        in.misplaced({"to"}, "to belongs to do = \"trim\" (a diameter) or \"move\" (a place)");
    }
}

void read_action(TableReader& in, Draft& draft) {
    Action action;
    read_day(in, action, draft.layout.season);
    const bool known = in.choice<Deed>("do", action.deed,
                                       {{"trim", Deed::trim},
                                        {"move", Deed::move},
                                        {"add", Deed::add},
                                        {"remove", Deed::remove},
                                        {"feed", Deed::feed},
                                        {"clean", Deed::clean},
                                        {"set", Deed::set}},
                                       Need::required);
    for (const char* key : {"colony", "to"}) in.node(key);
    if (!known) return;
    read_colony_named(in, action, draft.layout);
    read_target(in, action, draft);
    draft.layout.actions.push_back(std::move(action));
}

}  // namespace

void read_readings(TableReader& top, Draft& draft) {
    for_each_item(top, "reading", kMostReadings,
                  [&](TableReader& item) { read_reading(item, draft); });
}

void read_actions(TableReader& top, Draft& draft) {
    for_each_item(top, "action", kMostActions,
                  [&](TableReader& item) { read_action(item, draft); });
}

}  // namespace bedshade
