// bedshade place: which kinds of coral are suitable for the bed, or for one site, and why not.
#include <fmt/format.h>

#include "sim/base/number_text.h"
#include "sim/base/pool.h"
#include "sim/base/text.h"
#include "sim/place/placing.h"
#include "sim/place/placing_report.h"
#include "sim/report/report.h"

#include "tools/bedshade/advice_options.h"
#include "tools/bedshade/interrupt.h"
#include "tools/bedshade/prepare.h"
#include "tools/bedshade/run_options.h"
#include "tools/bedshade/terminal.h"

namespace bedshade {
namespace {

double cm_of(const std::string& text, const char* option) {
    const auto value = number_in(text);
    if (!value)
        throw UsageError(fmt::format("--{} has '{}', which is not a number of centimetres", option,
                                     escape_control(text)));
    return 0.01 * *value;
}

/// The site of the bed that `--site X,Y` names.
Vec2 requested_site(const Arguments& arguments, const Layout& layout) {
    const auto text = arguments.value<std::string>("spot");
    const auto comma = text.find(',');
    if (comma == std::string::npos)
        throw UsageError(fmt::format("--spot is '{}'; needed: X,Y in cm, as in --spot 45,24",
                                     escape_control(text)));
    const double x_m = cm_of(text.substr(0, comma), "spot");
    const double y_m = cm_of(text.substr(comma + 1), "spot");
    if (x_m < 0.0 || y_m < 0.0 || x_m > layout.tank.length_m || y_m > layout.tank.width_m)
        throw UsageError(fmt::format("--spot {} is outside the tank: 0 to {:g} by 0 to {:g} cm",
                                     escape_control(text), 100.0 * layout.tank.length_m,
                                     100.0 * layout.tank.width_m));
    return {x_m, y_m};
}

std::optional<double> diameter_option(const Arguments& arguments) {
    if (!arguments.has("diameter")) return std::nullopt;
    const double diameter_m = cm_of(arguments.value<std::string>("diameter"), "diameter");
    if (diameter_m < 0.005 || diameter_m > 1.0)
        throw UsageError(
            fmt::format("--diameter is {:g}; allowed: 0.5 to 100 cm", 100.0 * diameter_m));
    return diameter_m;
}

/// Every kind of the trait tables, or the requested one.
std::vector<Candidate> requested_candidates(const Arguments& arguments, const Prepared& prepared) {
    TraitTable table;
    table.overlay(prepared.file.traits_text, "the trait tables");
    const auto diameter_m = diameter_option(arguments);
    if (!arguments.has("taxon")) {
        std::vector<Candidate> all;
        for (const Taxon& taxon : table.taxa()) all.push_back(candidate_of(taxon, diameter_m));
        return all;
    }
    const auto word = arguments.value<std::string>("taxon");
    const Taxon* const taxon = table.find(word);
    if (taxon == nullptr) {
        const std::string near = nearest_name(word, table.names());
        throw UsageError(
            fmt::format("--taxon '{}' is not in the trait table{}", escape_control(word),
                        near.empty() ? "" : fmt::format("; did you mean '{}'?", near)));
    }
    return {candidate_of(*taxon, diameter_m)};
}

/// What the bed will be like is nearly all of the work, the survey of it the rest.
constexpr double kForecastFraction = 0.8;

void report_site(const BedForecast& bed, const std::vector<Candidate>& candidates,
                 const Arguments& arguments, const PlacingRequest& request) {
    const auto assessments = at_site(bed, requested_site(arguments, bed.layout()), candidates);
    fmt::print("{}", arguments.json() ? placing_site_json(bed, candidates, assessments, request)
                                      : placing_site_text(bed, candidates, assessments));
}

void report_bed(const BedForecast& bed, const std::vector<KindOnBed>& kinds,
                const Arguments& arguments, const PlacingRequest& request) {
    const bool one = arguments.has("taxon");
    if (arguments.json()) {
        fmt::print("{}", placing_json(bed, kinds, request, one));
        return;
    }
    fmt::print("{}", placing_text(bed, kinds));
    if (one) fmt::print("\n{}", placing_map_text(bed, kinds.front()));
}

int run(const Arguments& arguments) {
    catch_interrupts();
    Prepared prepared = prepare(arguments);
    set_months(prepared.file.layout, arguments);
    require_beginning(prepared.layout(), "place");
    const auto candidates = requested_candidates(arguments, prepared);
    const bool one_site = arguments.has("spot");
    if (one_site)
        requested_site(arguments, prepared.layout());  // checked before the work, not after it
    Pool pool(arguments.threads());
    ProgressBar bar("place", arguments.quiet());
    const auto go_on = [&](double done) {
        bar.show(done, fmt::format("{:.0f} %", 100.0 * done));
        return !interrupted();
    };
    const BedForecast bed(prepared.layout(), prepared.run_options(seed_of(arguments)),
                          pool.parallel_for(),
                          [&](double done) { return go_on(kForecastFraction * done); });
    if (!bed.finished()) {  // which is not kept, so that the same line begins again
        print_message("bedshade: interrupted; nothing was written\n");
        return kInterrupted;
    }
    std::vector<KindOnBed> kinds;
    if (!one_site) {
        ResultCache cache =
            cache_of(prepared, fmt::format("bed ahead, seed {}, lamps times {}", seed_of(arguments),
                                           prepared.calibration.output_scale));
        kinds = survey(
            bed, candidates, pool.parallel_for(),
            [&](double done) {
                return go_on(kForecastFraction + (1.0 - kForecastFraction) * done);
            },
            cache);
        if (kinds.empty()) return report_interrupted();
    }
    const PlacingRequest request{seed_of(arguments), warning_sentences(prepared.file.warnings)};
    if (!arguments.json())
        fmt::print("{}\n", lamp_output_text(prepared.layout(), prepared.calibration));
    if (one_site)
        report_site(bed, candidates, arguments, request);
    else
        report_bed(bed, kinds, arguments, request);
    return kDone;
}

}  // namespace

const Command kPlaceCommand = {
    "place",
    "LAYOUT",
    "which corals are suitable for the bed, where, and why others are not",
    "Runs the layout once and tests every kind in the trait table on each spot of the bed: "
    "whether\n"
    "it has light, stays clean, and neither harms nor is harmed by neighbours up to the horizon.\n"
    "  bedshade place my_tank.toml\n  bedshade place my_tank.toml --taxon \"plate coral\"\n"
    "  bedshade place my_tank.toml --spot 45,24",
    [](po::options_description& options) {
        add_run_options(options);
        options.add_options()("spot", po::value<std::string>()->value_name("X,Y"),
                              "every kind at this spot only (cm from the front left corner)")(
            "taxon", po::value<std::string>()->value_name("T"),
            "this kind only, with a map of the bed")(
            "diameter", po::value<std::string>()->value_name("CM"),
            "initial diameter of the corals (default: usual for their form; at most their "
            "largest)");
    },
    run,
    kTakesAll};

}  // namespace bedshade
