// bedshade fit: calibrate lamps, water and growth from measurements.
#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include "sim/base/plain_text.h"
#include "sim/base/pool.h"
#include "sim/base/text.h"
#include "sim/base/text_output.h"
#include "sim/fit/fit_report.h"
#include "sim/fit/fitted_layout.h"

#include "tools/bedshade/interrupt.h"
#include "tools/bedshade/option_values.h"
#include "tools/bedshade/output_options.h"
#include "tools/bedshade/prepare.h"
#include "tools/bedshade/run_options.h"
#include "tools/bedshade/terminal.h"

namespace bedshade {
namespace {

/// The measurements and the results of the fit.
struct Fits {
    std::vector<Reading> readings;
    std::vector<MeasuredDiameter> diameters;
    std::optional<LightFit> light;
    std::optional<GrowthFit> growth;
    Layout truncate;
};

double share_of(const Arguments& arguments, const char* option) {
    return number_within(arguments, option, 0.1, 50.0) / 100.0;
}

Fits read_measurements(const Arguments& arguments, const Layout& layout) {
    if (!arguments.has("readings") && !arguments.has("growth"))
        throw UsageError("nothing was measured: give --readings, --growth, or both");
    Fits fits;
    if (arguments.has("readings"))
        fits.readings = read_meter_readings(arguments.value<std::string>("readings"), layout);
    if (!fits.readings.empty() && layout.lamps.empty())
        throw UsageError("the layout has no lamp for readings to calibrate");
    if (arguments.has("growth"))
        fits.diameters = read_diameters(arguments.value<std::string>("growth"), layout);
    fits.truncate = layout;
    return fits;
}

void fit(const Arguments& arguments, const Calibration& calibration, Fits& fits) {
    const MeterError error{share_of(arguments, "meter-scatter"),
                           share_of(arguments, "meter-calibration")};
    Pool pool(arguments.threads());
    ProgressBar bar("fit", arguments.quiet());
    if (!fits.readings.empty()) {
        bar.show(0.0, "light");
        fits.light = fit_light(fits.truncate, fits.readings, error, pool.parallel_for());
        fits.truncate = with_light(std::move(fits.truncate), *fits.light);
    }
    if (fits.diameters.empty()) return;
    // Fitted lamps are as they are; others are scaled to the layout's own readings.
    const double scale = fits.light ? 1.0 : calibration.output_scale;
    const auto go_on = [&](double done) {
        bar.show(done, "growth");
        return !interrupted();
    };
    fits.growth = fit_growth(fits.truncate, fits.diameters, scale, seed_of(arguments),
                             pool.parallel_for(), go_on);
    fits.truncate = with_growth(std::move(fits.truncate), *fits.growth);
}

void print_json(const Prepared& prepared, const Fits& fits, const std::string& out) {
    const Layout& layout = prepared.layout();
    nlohmann::ordered_json document = {{"format", 1}, {"layout", layout.path}};
    document["light"] = fits.light ? light_fit_json(layout, *fits.light) : nullptr;
    document["growth"] = fits.growth ? growth_fit_json(layout, *fits.growth) : nullptr;
    document["files"] = nlohmann::ordered_json::array();
    if (!out.empty()) document["files"].push_back(out);
    document["warnings"] = warning_sentences(prepared.file.warnings);
    fmt::print("{}", json_text(document));
}

void print_text(const Layout& layout, const Fits& fits, const std::string& out, bool quiet) {
    if (fits.light) fmt::print("{}", light_fit_text(layout, *fits.light));
    if (fits.light && !layout.readings.empty())
        fmt::print(
            "  The layout's own readings are not among these; the fitted layout does not scale the "
            "lamps by them.\n");
    if (fits.growth) fmt::print("{}", growth_fit_text(layout, *fits.growth));
    if (!out.empty())
        fmt::print(
            "\nThe fitted layout is in {}; forecast it with --members to see the remaining "
            "uncertainty.\n",
            escape_control(out));
    else if (!quiet)
        fmt::print("\nAdd --out FITTED.toml to write the fitted layout.\n");
}

int run(const Arguments& arguments) {
    catch_interrupts();
    const std::string out = output_option(arguments, "out").value_or("");
    const Prepared prepared = prepare(arguments);
    const Layout& layout = prepared.layout();
    require_beginning(layout, "fit");
    Fits fits = read_measurements(arguments, layout);
    fit(arguments, prepared.calibration, fits);
    if (fits.growth && !fits.growth->finished) {
        print_message("bedshade: interrupted; nothing was written\n");
        return kInterrupted;
    }
    if (!out.empty())
        write_text(out, fitted_layout_text(out, layout.path, fits.truncate,
                                           fits.light ? &*fits.light : nullptr,
                                           fits.growth ? &*fits.growth : nullptr));
    if (arguments.json())
        print_json(prepared, fits, out);
    else
        print_text(layout, fits, out, arguments.quiet());
    return kDone;
}

}  // namespace

const Command kFitCommand = {
    "fit",
    "LAYOUT --readings F.csv",
    "calibrate lamps, water and growth from your measurements",
    "Readings are x_cm,y_cm,z_cm,ppfd_umol_m2_s and, optionally, on, sensor, immersion. Growth is\n"
    "colony,on,diameter_cm. The result is a layout that extends the first.\n"
    "  bedshade fit my_tank.toml --readings meter.csv --growth ruler.csv --out fitted.toml",
    [](po::options_description& options) {
        options.add_options()("readings", po::value<std::string>()->value_name("F.csv"),
                              "light-meter readings")(
            "growth", po::value<std::string>()->value_name("F.csv"), "dated diameters")(
            "out", po::value<std::string>()->value_name("FITTED.toml"),
            "write the fitted layout there")("force", "replace an existing file")(
            "meter-scatter", po::value<double>()->default_value(5.0)->value_name("%"),
            "standard deviation of the error of each reading")(
            "meter-calibration", po::value<double>()->default_value(6.0)->value_name("%"),
            "standard deviation of the error that all readings of a meter share");
        add_seed_option(options);
    },
    run,
    kTakesAll};

}  // namespace bedshade
