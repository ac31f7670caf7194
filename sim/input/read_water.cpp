#include "sim/input/defaults.h"
#include "sim/input/sections.h"

namespace bedshade {
namespace {

void read_turbidity(TableReader& in, Water& water) {
    auto part = in.child("turbidity");
    if (!part) return;
    water.turbidity_grain_m = kTurbidityGrain_m;
    part->quantity("mass", water.turbidity_kg_m3, kConcentration, {0.0, 1000.0}, Need::required);
    part->quantity("size", water.turbidity_grain_m, kParticleSize, {0.1, 1000.0});
    part->finish();
}

void read_drift(TableReader& in, Water& water) {
    auto part = in.child("drift");
    if (!part) return;
    part->number("yellowing_per_week", water.yellowing_drift_per_m_week, {0.0, 1.0}, "1/m a week",
                 Need::required);
    part->quantity("reset_every", water.drift_reset_weeks, kWeeks, {1.0, 520.0});
    part->finish();
}

void read_seasonal(TableReader& in, Water& water) {
    auto part = in.child("seasonal");
    if (!part) return;
    part->number("swing", water.seasonal_swing_K, {0.0, 10.0}, "K", Need::required);
    part->whole_number("warmest_month", water.warmest_month, 1, 12);
    part->finish();
}

}  // namespace

void read_water(TableReader& top, Draft& draft) {
    Water& water = draft.layout.water;
    auto in = top.child("water");
    if (!in) return;
    in->number_or_quantity("temperature", water.temperature_C, kTemperature, {10.0, 35.0});
    in->number("salinity", water.salinity_g_kg, {0.0, 50.0}, "g/kg");
    in->number("yellowing", water.yellowing_per_m, {0.0, 10.0}, "1/m");
    read_turbidity(*in, water);
    double value = 0.0;
    if (in->number("attenuation", value, {0.0, 10.0}, "1/m")) water.attenuation_per_m = value;
    if (in->number("index", value, {1.30, 1.40})) water.refractive_index = value;
    read_drift(*in, water);
    read_seasonal(*in, water);
    in->finish();
}

}  // namespace bedshade
