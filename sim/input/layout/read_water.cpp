#include <fmt/format.h>

#include "sim/input/layout/defaults.h"
#include "sim/input/layout/sections.h"
#include "sim/input/layout/settable.h"

namespace bedshade {
namespace {

void read_turbidity(TableReader& in, Water& water) {
    auto part = in.child("turbidity");
    if (!part) return;
    water.turbidity_grain_m = kTurbidityGrain_m;
    part->quantity("mass", water.turbidity_kg_m3, kConcentration, kTurbidity, Need::required);
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

/// Bleaching begins about a degree above the warmest month that corals are used to, some 28 degC
/// where most kept ones come from; below 20 they fare badly (Jokiel & Coles 1977: dead in one to
/// two weeks at 18).
constexpr double kHarmfullyWarm_C = 29.0, kHarmfullyCold_C = 20.0;

void warn_of_heat_and_cold(TableReader& in, const Water& water) {
    const double warmest_C = water.temperature_C + water.seasonal_swing_K;
    const double coldest_C = water.temperature_C - water.seasonal_swing_K;
    const char* const key = in.has("temperature") ? "temperature" : "seasonal";
    if (warmest_C > kHarmfullyWarm_C)
        in.warn(key,
                fmt::format("the water reaches {} degC, but heat damage is not in the model",
                            format_number(warmest_C)),
                fmt::format("above {} degC corals bleach", format_number(kHarmfullyWarm_C)));
    if (coldest_C < kHarmfullyCold_C)
        in.warn(key,
                fmt::format("the water falls to {} degC, but cold damage is not in the model",
                            format_number(coldest_C)),
                fmt::format("below {} degC corals die in weeks", format_number(kHarmfullyCold_C)));
}

}  // namespace

void read_water(TableReader& top, LayoutBuilder& builder) {
    Water& water = builder.layout.water;
    auto in = top.child("water");
    if (!in) return;
    in->number_or_quantity("temperature", water.temperature_C, kTemperature, kTemperatureRange);
    in->number("salinity", water.salinity_g_kg, {0.0, 50.0}, "g/kg");
    in->number("yellowing", water.yellowing_per_m, kYellowing, "1/m");
    read_turbidity(*in, water);
    double value = 0.0;
    if (in->number("attenuation", value, kAttenuation, "1/m")) water.attenuation_per_m = value;
    if (in->number("index", value, {1.30, 1.40})) water.refractive_index = value;
    read_drift(*in, water);
    read_seasonal(*in, water);
    warn_of_heat_and_cold(*in, water);
    in->finish();
}

}  // namespace bedshade
