// Reads the planned actions.
#include <algorithm>
#include <fmt/format.h>
#include <utility>

#include "sim/base/calendar.h"
#include "sim/base/text.h"
#include "sim/input/layout/places.h"
#include "sim/input/layout/sections.h"
#include "sim/input/layout/settable.h"

namespace bedshade {
namespace {

constexpr std::size_t kMostActions = 10000;

/// More than twice the usual has no further effect: polyps are full.
constexpr Range kFood{0.0, 2.0, "0 is none, 1 is usual, 2 is twice the usual"};
constexpr Range kMeal{0.01, 7305.0};

/// A date, or the month (from 1) on whose first day it happens.
void read_day(TableReader& in, Action& action, const Season& season) {
    if (in.has("on") == in.has("month"))
        in.diagnostics().error(in.place(),
                               in.name() + (in.has("on") ? " has both a date and a month"
                                                         : " has neither a date nor a month"),
                               "give on = 2027-09-01, or month = 9");
    CalendarDay on;
    if (in.date("on", on)) {
        action.day_d = days_since(season.start, on);
        if (action.day_d < 0.0)
            in.error("on", fmt::format("{} is before the start of the run, {}", in.label("on"),
                                       to_string(season.start)));
    }
    int month = 1;
    if (in.whole_number("month", month, 1, 240)) action.day_d = (month - 1) * kDaysPerMonth;
    if (action.day_d > season.months * kDaysPerMonth)
        in.warn(
            in.has("on") ? "on" : "month",
            fmt::format("{} is after the end of the run ({} months)", in.name(), season.months));
}

/// The entry of that name, or null and an error that suggests the nearest, or the first few.
template <class Thing>
const Thing* thing_named(TableReader& in, const char* key, const std::vector<Thing>& things,
                         Need need) {
    std::string name;
    if (!in.text(key, name, need)) return nullptr;
    for (const Thing& thing : things)
        if (thing.name == name) return &thing;
    std::vector<std::string> names;
    if (in.diagnostics().keeps_more_errors())
        for (const Thing& thing : things) names.push_back(thing.name);
    const std::string near = nearest_name(name, names);
    constexpr std::size_t kMostNamed = 10;
    names.resize(std::min(names.size(), kMostNamed));
    std::string help;
    if (!near.empty())
        help = fmt::format("did you mean \"{}\"?", escape_control(near));
    else if (!names.empty())
        help =
            fmt::format("there are: {}", escape_control(fmt::format("{}", fmt::join(names, ", "))));
    in.error(key, fmt::format("there is no {} \"{}\"", key, escape_control(name)), help);
    return nullptr;
}

void read_trim(TableReader& in, Action& action) {
    double diameter_m = 0.0;
    if (in.quantity("to", diameter_m, kLength, {0.1, 500.0}, Need::required))
        action.to = diameter_m;
}

void read_move(TableReader& in, Action& action, const LayoutBuilder& builder) {
    Vec3 place_m = Vec3::Zero();
    if (!in.point("to", place_m, Need::required) || !in_water(in, "to", place_m, builder)) return;
    if (const Rock* rock = RockIndex(builder.layout.rocks).around(place_m))
        in.error("to", fmt::format("{} is inside rock \"{}\"", in.label("to"),
                                   escape_control(rock->name)));
    action.to = place_m;
}

void read_feed(TableReader& in, Action& action) {
    Feeding feeding;
    in.number("food", feeding.food, kFood, "times the usual", Need::required);
    double days = 0.0;
    if (in.quantity("for", days, kDays, kMeal)) feeding.for_d = days;
    if (in.quantity("every", days, kDays, kMeal)) feeding.every_d = days;
    if (feeding.every_d && !in.has("for"))
        in.error("every", fmt::format("{} repeats, but has no duration", in.name()),
                 "give for = \"1 d\" too");
    else if (feeding.every_d && feeding.for_d && *feeding.every_d <= *feeding.for_d)
        in.error("every", fmt::format("{} repeats before it ends", in.name()),
                 "every must be longer than for");
    action.to = feeding;
}

void read_lamp_change(TableReader& in, Action& action, const Layout& layout) {
    const Lamp* const lamp = thing_named(in, "lamp", layout.lamps, Need::required);
    LampChange change;
    double value = 0.0;
    if (in.number("output", value, kShare)) change.output = value;
    if (in.quantity("height", value, kLength, kLampHeight)) change.above_m = value;
    LampDay day = lamp != nullptr ? lamp->day : LampDay{};
    if (read_lamp_day(in, day)) change.day = day;
    if (lamp != nullptr) change.lamp = lamp->name;
    action.to = change;
}

void read_pump_change(TableReader& in, Action& action, const Layout& layout) {
    const Pump* const pump = thing_named(in, "pump", layout.pumps, Need::required);
    PumpChange change;
    double flow_m3_s = 0.0;
    if (in.quantity("flow", flow_m3_s, kFlow, kPumpFlow)) change.flow_m3_s = flow_m3_s;
    Vec3 direction = Vec3::UnitX();
    const auto nozzle_m = pump != nullptr ? std::optional(pump->position_m) : std::nullopt;
    if (read_jet_aim(in, nozzle_m, direction, Need::optional)) change.direction = direction;
    if (pump != nullptr) change.pump = pump->name;
    action.to = change;
}

void read_water_change(TableReader& in, Action& action, const Layout& layout) {
    auto part = in.child("water");
    if (!part) return;
    WaterChange change;
    double value = 0.0;
    if (part->number_or_quantity("temperature", value, kTemperature, kTemperatureRange))
        change.temperature_C = value;
    if (part->number("yellowing", value, kYellowing, "1/m")) change.yellowing_per_m = value;
    if (auto turbidity = part->child("turbidity")) {
        if (turbidity->quantity("mass", value, kConcentration, kTurbidity, Need::required))
            change.turbidity_kg_m3 = value;
        turbidity->finish();
    }
    if (part->number("attenuation", value, kAttenuation, "1/m")) change.attenuation_per_m = value;
    if (change.yellowing_per_m && (layout.water.attenuation_per_m || change.attenuation_per_m))
        part->warn("yellowing",
                   part->label("yellowing") + " has no effect on light where attenuation is given");
    if (in.node("water")->as_table()->empty())
        in.error("water", in.name() + " sets nothing",
                 "give temperature, yellowing, turbidity or attenuation");
    part->finish();
    action.to = change;
}

/// Exactly one of lamp, pump and water; the keys of the others are out of place.
void read_set(TableReader& in, Action& action, const Layout& layout) {
    const int targets = in.has("lamp") + in.has("pump") + in.has("water");
    if (targets != 1) {
        in.diagnostics().error(in.place(),
                               in.name() + (targets == 0 ? " does not name what it sets"
                                                         : " sets more than one thing"),
                               "give one of lamp = \"name\", pump = \"name\", water = { ... }");
        return;
    }
    if (in.has("lamp"))
        read_lamp_change(in, action, layout);
    else
        in.misplaced({"output", "height", "day"}, "output, height and day are settings of a lamp");
    if (in.has("pump"))
        read_pump_change(in, action, layout);
    else
        in.misplaced({"flow", "toward"}, "flow and toward are settings of a pump");
    if (in.has("water")) read_water_change(in, action, layout);
    if (!in.has("water") && !in.has("output") && !in.has("height") && !in.has("day") &&
        !in.has("flow") && !in.has("toward"))
        in.diagnostics().error(
            in.place(), in.name() + " sets nothing",
            in.has("lamp") ? "give output, height or day" : "give flow or toward");
}

void read_colony_named(TableReader& in, Action& action, const Layout& layout) {
    if (action.kind == ActionKind::set) {
        in.misplaced({"colony"}, "colony belongs to the other kinds of action");
        return;
    }
    const bool of_one = action.kind != ActionKind::feed && action.kind != ActionKind::clean;
    const Need need = of_one ? Need::required : Need::optional;
    if (const Colony* colony = thing_named(in, "colony", layout.colonies, need))
        action.colony = colony->name;
}

void read_target(TableReader& in, Action& action, const LayoutBuilder& builder) {
    if (action.kind == ActionKind::trim)
        read_trim(in, action);
    else if (action.kind == ActionKind::move)
        read_move(in, action, builder);
    else
        in.misplaced({"to"}, "to belongs to do = \"trim\" (a diameter) or \"move\" (a position)");
    if (action.kind == ActionKind::feed)
        read_feed(in, action);
    else
        in.misplaced({"food", "for", "every"}, "food, for and every belong to do = \"feed\"");
    if (action.kind == ActionKind::set)
        read_set(in, action, builder.layout);
    else
        in.misplaced({"lamp", "pump", "water", "output", "height", "day", "flow", "toward"},
                     "settings of lamps, pumps and water belong to do = \"set\"");
}

void read_action(TableReader& in, LayoutBuilder& builder) {
    Action action;
    read_day(in, action, builder.layout.season);
    const bool known = in.choice<ActionKind>("do", action.kind,
                                             {{"trim", ActionKind::trim},
                                              {"move", ActionKind::move},
                                              {"add", ActionKind::add},
                                              {"remove", ActionKind::remove},
                                              {"feed", ActionKind::feed},
                                              {"clean", ActionKind::clean},
                                              {"set", ActionKind::set}},
                                             Need::required);
    for (const char* key : {"colony", "to", "food", "for", "every", "lamp", "pump", "water",
                            "output", "height", "day", "flow", "toward"})
        in.node(key);
    if (!known) return;
    read_colony_named(in, action, builder.layout);
    read_target(in, action, builder);
    builder.layout.actions.push_back(std::move(action));
}

}  // namespace

void read_actions(TableReader& top, LayoutBuilder& builder) {
    for_each_item(top, "action", kMostActions,
                  [&](TableReader& item) { read_action(item, builder); });
}

}  // namespace bedshade
