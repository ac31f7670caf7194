#include "sim/fit/fitted_layout.h"

#include <fmt/format.h>

#include "sim/advice/change_text.h"

namespace bedshade {
namespace {

std::string water_text(const Water& water) {
    std::string text = fmt::format("[water]\nyellowing = {:.6g}\n", water.yellowing_per_m);
    if (water.attenuation_per_m)
        text += fmt::format("attenuation = {:.6g}\n", *water.attenuation_per_m);
    if (water.turbidity_kg_m3 > 0.0)
        text +=
            fmt::format("turbidity = {{ mass = \"{:.6g} mg/L\" }}\n", 1e3 * water.turbidity_kg_m3);
    return text;
}

std::string light_text(const Layout& truncate) {
    const Measured& measured = truncate.measured;
    std::string text = "\n[season]\nuse_readings = false\n\n" + water_text(truncate.water);
    text += fmt::format(
        "\n# Uncertainty for ensembles: factors between the best estimate and its 95 % end.\n"
        "[measured]\noutput_known_to = {:.4f}\nwater_known_to = {:.4f}\n"
        "water_with_output = {:.3f}\n",
        *measured.output_known_to, *measured.water_known_to, measured.water_with_output);
    for (const Lamp& lamp : truncate.lamps)
        text += fmt::format("\n[[lamp]]\nname = {}\nphoton_flux = {:.6g}\n", toml_quoted(lamp.name),
                            lamp.photon_flux_umol_s);
    return text;
}

std::string growth_text(const Layout& truncate, const GrowthFit& growth) {
    std::string text;
    for (const FittedGrowth& found : growth.colonies) {
        const Colony& colony = truncate.colonies[static_cast<std::size_t>(found.colony)];
        text += fmt::format(
            "\n[[colony]]\nname = {}\ngrowth_factor = {:.6g}\ngrowth_known_to = {:.4f}\n",
            toml_quoted(colony.name), colony.growth_factor, *colony.growth_known_to);
    }
    return text;
}

}  // namespace

std::string fitted_layout_text(const std::filesystem::path& path, const std::filesystem::path& base,
                               const Layout& truncate, const LightFit* light,
                               const GrowthFit* growth) {
    std::string text =
        "# Written by `bedshade fit`: measured values that replace those of the layout it "
        "extends.\n" +
        extending(path, base);
    if (light != nullptr) text += light_text(truncate);
    if (growth != nullptr) text += growth_text(truncate, *growth);
    return text;
}

}  // namespace bedshade
