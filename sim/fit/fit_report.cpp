#include "sim/fit/fit_report.h"

#include <cmath>
#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include "sim/base/calendar.h"
#include "sim/base/text.h"

namespace bedshade {
namespace {

using nlohmann::ordered_json;

std::string known_text(double before, double now) {
    return fmt::format("uncertainty factor {:.2f} before, {:.2f} now", before, now);
}

std::string name_of(const Layout& layout, int colony) {
    return escape_control(layout.colonies[static_cast<std::size_t>(colony)].name);
}

std::string open_text(const std::vector<std::string>& open) {
    std::string text;
    for (const std::string& sentence : open) text += fmt::format("  {}\n", sentence);
    return text;
}

ordered_json json_of(const FittedFactor& factor) {
    return {{"factor", factor.best},
            {"known_to_before", factor.known_to_before},
            {"known_to", factor.uncertainty_factor}};
}

const char* word_of(Sensor sensor) { return sensor == Sensor::planar ? "planar" : "scalar"; }

}  // namespace

std::string light_fit_text(const Layout& layout, const LightFit& fit) {
    std::string text = fmt::format("Light, from {} reading{}\n", fit.readings.size(),
                                   fit.readings.size() == 1 ? "" : "s");
    text += fmt::format("  lamps  {:.2f} of what the layout says ({})\n", fit.output.best,
                        known_text(fit.output.known_to_before, fit.output.uncertainty_factor));
    if (layout.lamps.size() > 1)
        for (std::size_t i = 0; i < layout.lamps.size(); ++i)
            text += fmt::format("         '{}' {:.2f}\n", escape_control(layout.lamps[i].name),
                                fit.lamp_output[i]);
    text += fmt::format("  water  {:.2f} of the layout's {} ({})\n", fit.water.best,
                        layout.water.attenuation_per_m ? "attenuation" : "colour and turbidity",
                        known_text(fit.water.known_to_before, fit.water.uncertainty_factor));
    text += "  at x, y, z (cm)      sensor   meter  model before   after   residual (sd)\n";
    for (const FittedReading& row : fit.readings)
        text += fmt::format(
            "  {:>5.1f} {:>5.1f} {:>5.1f}    {:<7} {:>6.0f}  {:>12.0f}  {:>6.0f}   {:>+5.1f}\n",
            100.0 * row.reading.at_m.x(), 100.0 * row.reading.at_m.y(),
            100.0 * row.reading.at_m.z(), word_of(row.reading.sensor), row.reading.ppfd_umol_m2_s,
            row.before_umol_m2_s, row.after_umol_m2_s, row.off);
    return text + open_text(open_questions(fit));
}

std::string growth_fit_text(const Layout& layout, const GrowthFit& fit) {
    std::string text = fmt::format("Growth, from {} diameter{}\n", fit.diameters.size(),
                                   fit.diameters.size() == 1 ? "" : "s");
    for (const FittedGrowth& growth : fit.colonies)
        text += fmt::format("  '{}' {:.2f} of the layout's rate ({})\n",
                            name_of(layout, growth.colony), growth.factor,
                            known_text(growth.known_to_before, growth.uncertainty_factor));
    text += "  on          measured  model before   after (cm across)\n";
    for (const FittedDiameter& row : fit.diameters)
        text += fmt::format("  {}  {:>8.1f}  {:>12.1f}  {:>6.1f}  '{}'\n",
                            date_at(layout.season.start, row.measured.on_d),
                            100.0 * row.measured.across_m, 100.0 * row.before_m,
                            100.0 * row.after_m, name_of(layout, row.measured.colony));
    return text + open_text(open_questions(layout, fit));
}

ordered_json light_fit_json(const Layout& layout, const LightFit& fit) {
    ordered_json lamps = ordered_json::array(), readings = ordered_json::array();
    for (std::size_t i = 0; i < layout.lamps.size(); ++i)
        lamps.push_back({{"name", layout.lamps[i].name}, {"factor", fit.lamp_output[i]}});
    for (const FittedReading& row : fit.readings)
        readings.push_back({{"x_cm", 100.0 * row.reading.at_m.x()},
                            {"y_cm", 100.0 * row.reading.at_m.y()},
                            {"z_cm", 100.0 * row.reading.at_m.z()},
                            {"sensor", word_of(row.reading.sensor)},
                            {"meter_umol_m2_s", row.reading.ppfd_umol_m2_s},
                            {"before_umol_m2_s", row.before_umol_m2_s},
                            {"after_umol_m2_s", row.after_umol_m2_s},
                            {"off_deviations", row.off}});
    ordered_json document = {{"output", json_of(fit.output)},
                             {"water", json_of(fit.water)},
                             {"water_with_output", fit.water_with_output},
                             {"lamps", lamps},
                             {"readings", readings},
                             {"scatter", fit.scatter},
                             {"converged", fit.converged},
                             {"open", open_questions(fit)}};
    // JSON has no infinity: degenerate readings have no condition.
    document["condition"] = std::isfinite(fit.condition) ? ordered_json(fit.condition) : nullptr;
    return document;
}

ordered_json growth_fit_json(const Layout& layout, const GrowthFit& fit) {
    const auto raw_name = [&](int colony) {
        return layout.colonies[static_cast<std::size_t>(colony)].name;
    };
    ordered_json colonies = ordered_json::array(), diameters = ordered_json::array();
    for (const FittedGrowth& growth : fit.colonies)
        colonies.push_back({{"name", raw_name(growth.colony)},
                            {"factor", growth.factor},
                            {"known_to_before", growth.known_to_before},
                            {"known_to", growth.uncertainty_factor},
                            {"leverage", growth.leverage}});
    for (const FittedDiameter& row : fit.diameters)
        diameters.push_back({{"name", raw_name(row.measured.colony)},
                             {"date", date_at(layout.season.start, row.measured.on_d)},
                             {"measured_cm", 100.0 * row.measured.across_m},
                             {"before_cm", 100.0 * row.before_m},
                             {"after_cm", 100.0 * row.after_m}});
    return {{"colonies", colonies},
            {"diameters", diameters},
            {"scatter", fit.scatter},
            {"converged", fit.converged},
            {"open", open_questions(layout, fit)}};
}

}  // namespace bedshade
