#include "sim/run/rule_of_thumb.h"

#include <algorithm>

#include "model/light/light_field.h"

#include "sim/run/reef_light.h"

namespace bedshade {
namespace {

constexpr double kReferenceDepth_m = 0.10;

double flux_umol_s(const Lamp& lamp) { return lamp.photon_flux_umol_s * lamp.output; }

/// The strongest of the lamps that hang over the water, or null.
const Lamp* lamp_to_scale_by(const Layout& layout) {
    const Lamp* best = nullptr;
    for (const Lamp& lamp : layout.lamps) {
        const Vec3& at = lamp.centre_m;
        const bool over = at.x() >= 0.0 && at.x() <= layout.tank.length_m && at.y() >= 0.0 &&
                          at.y() <= layout.tank.width_m;
        if (over && (!best || flux_umol_s(lamp) > flux_umol_s(*best))) best = &lamp;
    }
    return best;
}

Vec3 below(const Lamp& lamp, const Tank& tank) {
    const double depth_m = std::min(kReferenceDepth_m, 0.5 * tank.water_depth_m);
    return {lamp.centre_m.x(), lamp.centre_m.y(), tank.water_depth_m - depth_m};
}

/// What the rule says, to a factor: flux over the square of the distance, summed over the lamps.
std::vector<double> by_the_rule(const Layout& layout, std::span<const LightReceptor> sensors) {
    std::vector<double> light;
    for (const LightReceptor& sensor : sensors) {
        double sum = 0.0;
        for (const Lamp& lamp : layout.lamps)
            sum += flux_umol_s(lamp) / (lamp.centre_m - sensor.position_m).squaredNorm();
        light.push_back(sum);
    }
    return light;
}

/// The tank with nothing in it that the rule does not know but the lamps' beams.
Layout bare_tank(const Layout& layout) {
    Layout bare = layout;
    for (Wall& wall : bare.tank.walls) wall.kind = WallKind::black;
    bare.water.attenuation_per_m = 0.0;
    bare.water.refractive_index = 1.0;
    for (Lamp& lamp : bare.lamps) lamp.shape = LampShape::point;
    bare.rocks.clear();
    return bare;
}

/// Puts in one thing as it really is.
void restore(Layout& bare, const Layout& real, LeftOut what) {
    if (what == LeftOut::lamp_size) bare.lamps = real.lamps;
    if (what == LeftOut::refraction) bare.water.refractive_index = real.water.refractive_index;
    if (what == LeftOut::absorption) bare.water = real.water;
    if (what == LeftOut::walls) bare.tank.walls = real.tank.walls;
    if (what == LeftOut::shade) bare.rocks = real.rocks;
}

/// Light straight from the lamps and by way of the walls.
std::vector<double> straight_light(const Layout& layout, bool with_colonies,
                                   std::span<const LightReceptor> sensors) {
    LightField field(layout, BedGrid{1, 1, layout.tank.length_m, layout.tank.width_m});
    const Reef reef = reef_now(layout);
    if (with_colonies)
        for (std::size_t i = 0; i < reef.colonies.size(); ++i)
            field.place(static_cast<int>(i), in_light(layout, i, reef.colonies[i]));
    field.update(run_serially);
    return summed_over_lamps(field.points(sensors, lamps_on(layout, reef.day_d, 1.0)),
                             sensors.size());
}

/// The light at every sensor by the rule, with one thing more each time, and as it is.
std::vector<std::vector<double>> stages(const Layout& layout, const Forecast& forecast,
                                        std::span<const LightReceptor> sensors) {
    std::vector<std::vector<double>> light{by_the_rule(layout, sensors)};
    Layout built = bare_tank(layout);
    for (std::size_t k = 0; k < kLeftOut; ++k) {
        const auto what = static_cast<LeftOut>(k);
        restore(built, layout, what);
        light.push_back(what == LeftOut::returned
                            ? summed_over_lamps(forecast.light_at(sensors), sensors.size())
                            : straight_light(built, what == LeftOut::shade, sensors));
    }
    return light;
}

}  // namespace

const char* to_string(LeftOut what) {
    static constexpr std::array<const char*, kLeftOut> kWords = {
        "the lamps' beams, and light that comes in at a slant",
        "the lamps' size",
        "bending and loss at the surface",
        "the water's absorption",
        "the walls' mirroring",
        "the shade of rock and corals",
        "light thrown back by sand, rock and corals"};
    return kWords[static_cast<std::size_t>(what)];
}

std::optional<RuleOfThumb> rule_of_thumb(const Layout& layout, const Forecast& forecast,
                                         std::span<const Vec3> spots_m) {
    const Lamp* lamp = lamp_to_scale_by(layout);
    if (!lamp) return std::nullopt;
    RuleOfThumb rule{lamp->name, below(*lamp, layout.tank), 0.0, {}};
    std::vector<LightReceptor> sensors{{rule.reference_m, Vec3::UnitZ()}};
    for (const Vec3& spot : spots_m) sensors.push_back({spot, Vec3::UnitZ()});
    auto light = stages(layout, forecast, sensors);
    rule.reference_umol_m2_s = light.back()[0];
    for (auto& stage : light) {
        if (!(stage[0] > 0.0)) return std::nullopt;
        const double scale = rule.reference_umol_m2_s / stage[0];
        for (double& value : stage) value *= scale;
    }
    for (std::size_t s = 1; s < sensors.size(); ++s) {
        RuleAtSpot spot{spots_m[s - 1], light.front()[s], light.back()[s], {}};
        for (std::size_t k = 0; k < kLeftOut; ++k)
            spot.change_umol_m2_s[k] = light[k + 1][s] - light[k][s];
        rule.spots.push_back(spot);
    }
    return rule;
}

}  // namespace bedshade
