#include <fmt/format.h>
#include <utility>

#include "sim/input/layout/defaults.h"
#include "sim/input/layout/places.h"
#include "sim/input/layout/sections.h"
#include "sim/input/text/time_of_day.h"

namespace bedshade {
namespace {

constexpr std::size_t kMostInhabitants = 500;

void read_hours(TableReader& in, Inhabitant& animal) {
    const auto* found = in.node("hours");
    if (!found) return;
    const auto* list = found->as_array();
    const auto at = [&](std::size_t i) -> std::optional<double> {
        const auto text =
            list && list->size() == 2 ? (*list)[i].value<std::string_view>() : std::nullopt;
        return text ? hour_of_day(*text) : std::nullopt;
    };
    const auto from = at(0), to = at(1);
    if (!from || !to)
        in.error("hours", fmt::format("{} must be two times of day", in.label("hours")),
                 "write hours = [\"08:00\", \"20:00\"]");
    else if (*from == *to)
        in.error("hours", fmt::format("{} end at the time they begin", in.label("hours")),
                 "write all day as [\"00:00\", \"24:00\"], a night as [\"20:00\", \"06:00\"]");
    else
        animal.from_h = *from, animal.to_h = *to;
}

void read_territory(TableReader& in, Inhabitant& animal, const LayoutBuilder& builder) {
    const Tank& tank = builder.layout.tank;
    animal.around_m = 0.5 * Vec2(tank.length_m, tank.width_m);
    animal.radius_m = animal.around_m.norm();
    if (in.spot("around", animal.around_m)) over_floor(in, "around", animal.around_m, builder);
    in.quantity("radius", animal.radius_m, kLength, {0.5, 3000.0});
}

void read_stirring(TableReader& in, Inhabitant& animal) {
    animal.lift_m = kStirLift_m;
    in.number("events_per_day", animal.events_per_day, {0.0, 1e5}, "a day", Need::required);
    in.quantity("mass", animal.mass_kg, kMass, {1e-4, 1000.0}, Need::required);
    in.quantity("lift", animal.lift_m, kLength, {0.1, 200.0});
}

void read_inhabitant(TableReader& in, const std::string& name, LayoutBuilder& builder) {
    Inhabitant animal;
    animal.name = name;
    in.choice<Habit>("does", animal.does,
                     {{"stir", Habit::stir}, {"dwell-at-bases", Habit::dwell_at_bases}},
                     Need::required);
    in.whole_number("count", animal.count, 1, 1000);
    read_hours(in, animal);
    read_territory(in, animal, builder);
    if (animal.does == Habit::stir)
        read_stirring(in, animal);
    else
        in.misplaced({"events_per_day", "mass", "lift"}, "these belong to does = \"stir\"");
    builder.layout.inhabitants.push_back(std::move(animal));
}

}  // namespace

void read_inhabitants(TableReader& top, LayoutBuilder& builder) {
    for_each_named(
        top, "inhabitant", kMostInhabitants,
        [&](TableReader& item, const std::string& name) { read_inhabitant(item, name, builder); });
}

}  // namespace bedshade
