#include "sim/season/settings.h"

#include <algorithm>
#include <cassert>

#include "sim/season/deeds.h"

namespace bedshade {
namespace {

template <class Thing>
Thing& named(const std::string& name, std::vector<Thing>& things) {
    const auto at = std::find_if(things.begin(), things.end(),
                                 [&](const Thing& thing) { return thing.name == name; });
    assert(at != things.end());
    return *at;
}

void put(const LampChange& change, double /*day_d*/, Layout& in_force, Unsettled& unsettled) {
    Lamp& lamp = named(change.lamp, in_force.lamps);
    lamp.output = change.output.value_or(lamp.output);
    if (change.above_m) {
        lamp.centre_m.z() = in_force.tank.water_depth_m + *change.above_m;
        unsettled.lamp_places = true;
    }
    if (change.day) {
        lamp.day = *change.day;
        unsettled.lamp_hours = true;
    }
}

void put(const PumpChange& change, double /*day_d*/, Layout& in_force, Unsettled& unsettled) {
    Pump& pump = named(change.pump, in_force.pumps);
    pump.flow_m3_s = change.flow_m3_s.value_or(pump.flow_m3_s);
    pump.direction = change.direction.value_or(pump.direction);
    unsettled.flow = true;
}

void put(const WaterChange& change, double day_d, Layout& in_force, Unsettled& unsettled) {
    Water& water = in_force.water;
    if (change.temperature_C) {
        water.temperature_C = *change.temperature_C;
        unsettled.flow = true;  // by way of the water's viscosity
    }
    if (change.yellowing_per_m) {
        water.yellowing_per_m = *change.yellowing_per_m;
        water.drift_from_d = day_d;
    }
    if (change.turbidity_kg_m3) {
        water.turbidity_kg_m3 = *change.turbidity_kg_m3;
        unsettled.silt = true;
    }
    if (change.attenuation_per_m) water.attenuation_per_m = change.attenuation_per_m;
}

/// What is no setting.
template <class Other>
void put(const Other& /*change*/, double /*day_d*/, Layout& /*in_force*/,
         Unsettled& /*unsettled*/) {}

}  // namespace

Unsettled set_anew(double day_d, Layout& in_force) {
    Unsettled unsettled;
    for (const Action& action : in_force.actions)
        if (is_on_day(action, day_d))
            std::visit([&](const auto& change) { put(change, day_d, in_force, unsettled); },
                       action.to);
    return unsettled;
}

}  // namespace bedshade
