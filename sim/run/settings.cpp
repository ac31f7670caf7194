#include "sim/run/settings.h"

#include <algorithm>
#include <cassert>

#include "sim/run/actions.h"

namespace bedshade {
namespace {

template <class Thing>
Thing& named(const std::string& name, std::vector<Thing>& things) {
    const auto at = std::find_if(things.begin(), things.end(),
                                 [&](const Thing& thing) { return thing.name == name; });
    assert(at != things.end());
    return *at;
}

void put(const LampChange& change, double /*day_d*/, Layout& in_force, Invalidated& invalidated) {
    Lamp& lamp = named(change.lamp, in_force.lamps);
    lamp.output = change.output.value_or(lamp.output);
    if (change.above_m) {
        lamp.centre_m.z() = in_force.tank.water_depth_m + *change.above_m;
        invalidated.lamp_places = true;
    }
    if (change.day) {
        lamp.day = *change.day;
        invalidated.lamp_hours = true;
    }
}

void put(const PumpChange& change, double /*day_d*/, Layout& in_force, Invalidated& invalidated) {
    Pump& pump = named(change.pump, in_force.pumps);
    pump.flow_m3_s = change.flow_m3_s.value_or(pump.flow_m3_s);
    pump.direction = change.direction.value_or(pump.direction);
    invalidated.flow = true;
}

void put(const WaterChange& change, double day_d, Layout& in_force, Invalidated& invalidated) {
    Water& water = in_force.water;
    if (change.temperature_C) {
        water.temperature_C = *change.temperature_C;
        invalidated.flow = true;  // by way of the water's viscosity
    }
    if (change.yellowing_per_m) {
        water.yellowing_per_m = *change.yellowing_per_m;
        water.drift_from_d = day_d;
    }
    if (change.turbidity_kg_m3) {
        water.turbidity_kg_m3 = *change.turbidity_kg_m3;
        invalidated.suspended = true;
    }
    if (change.attenuation_per_m) water.attenuation_per_m = change.attenuation_per_m;
}

/// What is no setting.
template <class Other>
void put(const Other& /*change*/, double /*day_d*/, Layout& /*in_force*/,
         Invalidated& /*unsettled*/) {}

}  // namespace

Invalidated apply_settings(double day_d, Layout& in_force) {
    Invalidated invalidated;
    for (const Action& action : in_force.actions)
        if (is_on_day(action, day_d))
            std::visit([&](const auto& change) { put(change, day_d, in_force, invalidated); },
                       action.to);
    return invalidated;
}

}  // namespace bedshade
