#include <fmt/format.h>

#include "sim/input/layout/sections.h"
#include "sim/input/layout/settable.h"
#include "sim/input/photometry/beam.h"
#include "sim/input/photometry/spectrum.h"

namespace bedshade {
namespace {

constexpr std::size_t kMostLamps = 200;
/// No source gives more photons for its power: all of it as photons of 700 nm, 119.6 kJ um/mol over
/// 0.7 um (Avogadro's number times Planck's constant times the speed of light).
constexpr Range kEfficacy{0.01, 5.85, "one joule is at most 5.85 umol of photons, at 700 nm"};
constexpr Range kFlux{0.01, 1e5};

/// Position and height; the height is above the water surface.
void read_place(TableReader& in, Lamp& lamp, const LayoutBuilder& builder) {
    Vec2 spot = Vec2::Zero();
    double height_m = 0.0;
    const bool placed = in.spot("position", spot, Need::required);
    in.quantity("height", height_m, kLength, kLampHeight, Need::required);
    lamp.centre_m = Vec3(spot.x(), spot.y(), builder.layout.tank.water_depth_m + height_m);
    const double reach = 2.0 * builder.layout.tank.length_m;
    const Vec2 middle = 0.5 * Vec2(builder.layout.tank.length_m, builder.layout.tank.width_m);
    if (placed && builder.has_tank() && (spot - middle).cwiseAbs().maxCoeff() > reach)
        in.error("position", fmt::format("{} is more than two tank lengths away from the tank",
                                         in.label("position")));
}

/// Without a shape of its own the lamp has that of its photometry's luminous opening.
void read_face(TableReader& in, Lamp& lamp, const Photometry* photometry) {
    if (photometry && !in.has("shape") && !in.has("size")) {
        lamp.shape = photometry->shape;
        lamp.size_m = photometry->size_m;
        return;
    }
    in.choice<LampShape>("shape", lamp.shape,
                         {{"rectangle", LampShape::rectangle},
                          {"disc", LampShape::disc},
                          {"point", LampShape::point}});
    if (lamp.shape == LampShape::point) {
        in.misplaced({"size"}, "a size belongs to shape = \"rectangle\" or \"disc\"");
        return;
    }
    const bool disc = lamp.shape == LampShape::disc;
    std::vector<double> size_m;
    if (in.lengths("size", size_m, disc ? 1 : 2, {0.1, 1000.0}, Need::required))
        lamp.size_m = Vec2(size_m.front(), size_m.back());
}

/// Exactly one of photon_flux, and watts with efficacy.
void read_flux(TableReader& in, Lamp& lamp) {
    const bool by_power = in.has("watts") || in.has("efficacy");
    if (in.has("photon_flux") == by_power) {
        in.diagnostics().error(
            in.place(),
            in.name() + (by_power ? " has its light output twice" : " has no light output"),
            "give photon_flux in umol/s, or watts and efficacy in umol/J");
    }
    in.number("photon_flux", lamp.photon_flux_umol_s, kFlux, "umol/s");
    double watts = 0.0, efficacy = 0.0;
    const Need both = by_power ? Need::required : Need::optional;
    const bool has_watts = in.number("watts", watts, {0.01, 1e5}, "W", both);
    const bool has_efficacy = in.number("efficacy", efficacy, kEfficacy, "umol/J", both);
    if (has_watts && has_efficacy) lamp.photon_flux_umol_s = watts * efficacy;
}

void read_lamp(TableReader& in, const std::string& name, LayoutBuilder& builder,
               PhotometryCache& cache) {
    Lamp lamp;
    lamp.name = name;
    read_place(in, lamp, builder);
    auto photometry = read_beam(in, lamp, cache);
    read_face(in, lamp, photometry.get());
    read_flux(in, lamp);
    in.number("output", lamp.output, kShare);
    in.quantity("tilt", lamp.tilt_rad, kAngle, {0.0, 89.0});
    in.quantity("azimuth", lamp.azimuth_rad, kAngle, {-360.0, 360.0});
    read_spectrum(in, lamp);
    read_lamp_day(in, lamp.day);
    in.number("ageing", lamp.ageing_per_year, kShare);
    if (photometry) warn_of_losses(in, lamp, *photometry);
    builder.layout.lamps.push_back(std::move(lamp));
    builder.photometry.push_back(std::move(photometry));
}

}  // namespace

bool read_lamp_day(TableReader& in, LampDay& day) {
    auto table = in.child("day");
    if (!table) return false;
    bool good = !table->has("on") || table->hour("on", day.on_h);
    good &= !table->has("off") || table->hour("off", day.off_h);
    good &= !table->has("ramp") || table->quantity("ramp", day.ramp_h, kHours, {0.0, 12.0});
    // Read again so that the keys count as known if they were not given.
    for (const char* key : {"on", "off", "ramp"}) table->node(key);
    const double lit_h = day.off_h - day.on_h;
    if (good && lit_h <= 0.0)
        in.error("day", fmt::format("{} switches off before it switches on", in.name()),
                 "on and off must be within one day, from 00:00 to 24:00");
    else if (good && 2.0 * day.ramp_h > lit_h + 1e-9)
        in.error("day", fmt::format("two ramps of {} h do not fit into the {} h {} is on",
                                    format_number(day.ramp_h), format_number(lit_h), in.name()));
    table->finish();
    return good;
}

void read_lamps(TableReader& top, LayoutBuilder& builder) {
    PhotometryCache cache;
    for_each_named(top, "lamp", kMostLamps, [&](TableReader& item, const std::string& name) {
        read_lamp(item, name, builder, cache);
    });
    if (!top.has("lamp"))
        top.diagnostics().warn({top.place().file}, "there is no [[lamp]]: the tank is dark");
}

}  // namespace bedshade
