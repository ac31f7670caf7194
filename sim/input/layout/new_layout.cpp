#include "sim/input/layout/new_layout.h"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>

#include "model/base/geometry.h"

namespace bedshade {
namespace {

// A starting point to edit: common practice, no source.
constexpr double kLampSpacing_m = 0.6;
constexpr double kPeakFlux_umol_m2_s = 600.0;  ///< all lamps at full output, per floor area
constexpr double kTurnovers_per_h = 15.0;      ///< of each pump
constexpr double kJetSpeed_m_s = 1.2;
constexpr double kColonyPerTank = 0.12;  ///< diameter against the narrow side

struct Size {
    double length_m, width_m, depth_m;

    double area_m2() const { return length_m * width_m; }
    double narrow_m() const { return std::min(length_m, width_m); }
};

/// Centimetres to the millimetre.
std::string cm(double length_m) {
    return fmt::format("{:.4g}", std::round(1000.0 * length_m) / 10.0);
}

/// A number to two digits, so that nobody takes it for a measured one.
double rounded(double value) {
    const double unit = std::pow(10.0, std::floor(std::log10(value)) - 1.0);
    return std::round(value / unit) * unit;
}

std::string spot(const Size& tank, double x, double y) {
    return fmt::format("{} {} cm", cm(x * tank.length_m), cm(y * tank.width_m));
}

std::string point(const Size& tank, double x, double y, double z) {
    return fmt::format("{} {} {} cm", cm(x * tank.length_m), cm(y * tank.width_m),
                       cm(z * tank.depth_m));
}

std::string heading(const Size& tank) {
    return fmt::format(R"(# A layout for bedshade. Edit it, then run `bedshade check` on it.
# Lengths, flows, masses and durations are written with a unit, in quotes: "24 in", "800 gallon/h".
# Places count from the front left corner of the inner floor: x along the length, y toward the back,
# z up from the sand surface.
format = 1
title = "new layout"

[season]
start = 2027-01-01      # the first day of the forecast
months = 24

[tank]
length = "{} cm"        # inside the glass
width = "{} cm"
water_depth = "{} cm"   # from the sand surface to the water surface

[substrate]
grain = "1.2 mm"        # median diameter

[water]
temperature = 25.5      # degC
salinity = 35           # g/kg
yellowing = 0.1         # absorption at 440 nm, 1/m; clear water is near 0
)",
                       cm(tank.length_m), cm(tank.width_m), cm(tank.depth_m));
}

std::string lamp(const Size& tank, int index, int count) {
    const double flux = kPeakFlux_umol_m2_s * tank.area_m2() / count;
    const double side_m = std::min(0.2, 0.5 * tank.narrow_m());
    return fmt::format(R"(
[[lamp]]
name = "lamp {}"
position = "{}"         # its centre
height = "20 cm"        # above the water surface
shape = "rectangle"
size = "{} {} cm"
photon_flux = {:g}      # umol/s of 400-700 nm at full output; measure it or ask its maker
output = 0.5            # share of full it is run at
spectrum = {{ "450 nm" = 0.6, "white 14000 K" = 0.4 }}
day = {{ on = "10:00", off = "20:00", ramp = "1 h" }}
)",
                       index + 1, spot(tank, (index + 0.5) / count, 0.5), cm(side_m), cm(side_m),
                       rounded(flux));
}

std::string pump(const Size& tank, const char* name, double from_x, double to_x) {
    const double flow_L_h =
        std::clamp(rounded(kTurnovers_per_h * 1000.0 * tank.area_m2() * tank.depth_m), 1.0, 1e6);
    const double flow_m3_s = flow_L_h / 3.6e6;
    const double nozzle_mm = std::clamp(
        std::round(1000.0 * std::sqrt(4.0 * flow_m3_s / (kPi * kJetSpeed_m_s))), 2.0, 500.0);
    return fmt::format(R"(
[[pump]]
name = "{}"
position = "{}"
toward = "{}"           # the point its jet is aimed at
nozzle = "{:g} mm"
flow = "{:g} L/h"
)",
                       name, point(tank, from_x, 0.5, 0.7), point(tank, to_x, 0.4, 0.6), nozzle_mm,
                       flow_L_h);
}

std::string rock(const Size& tank) {
    return fmt::format(R"(
[[rock]]
name = "ledge"
shape = "box"
min = "{}"
max = "{}"
)",
                       point(tank, 0.3, 0.5, 0.0), point(tank, 0.7, 0.9, 0.35));
}

std::string colony(const Size& tank, const char* name, const char* taxon, const char* on,
                   const std::string& where) {
    const double diameter_m = std::clamp(kColonyPerTank * tank.narrow_m(), 0.005, 0.08);
    return fmt::format(R"(
[[colony]]
name = "{}"
taxon = "{}"
on = "{}"
position = "{}"
diameter = "{} cm"
)",
                       name, taxon, on, where, cm(diameter_m));
}

std::string colonies(const Size& tank) {
    return "\n# `bedshade traits` lists the taxa. On sand or a rock the height is found." +
           colony(tank, "plate", "montipora-capricornis", "ledge", spot(tank, 0.4, 0.65)) +
           colony(tank, "thicket", "acropora-millepora", "ledge", spot(tank, 0.6, 0.65)) +
           colony(tank, "open brain", "trachyphyllia-geoffroyi", "sand", spot(tank, 0.2, 0.25)) +
           colony(tank, "disc", "fungia", "sand", spot(tank, 0.5, 0.25)) +
           colony(tank, "elegance", "catalaphyllia-jardinei", "sand", spot(tank, 0.8, 0.25));
}

}  // namespace

std::string new_layout_text(double length_m, double width_m, double water_depth_m) {
    const Size tank{length_m, width_m, water_depth_m};
    const int lamps = std::max(1, static_cast<int>(std::lround(length_m / kLampSpacing_m)));
    std::string text = heading(tank);
    for (int i = 0; i < lamps; ++i) text += lamp(tank, i, lamps);
    text += pump(tank, "left pump", 0.03, 0.5) + pump(tank, "right pump", 0.97, 0.5);
    return text + rock(tank) + colonies(tank);
}

}  // namespace bedshade
