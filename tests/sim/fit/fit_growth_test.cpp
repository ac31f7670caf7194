// Fits of growth, on diameters made by forecasts whose growth is known.
#include "sim/fit/fit_growth.h"

#include <catch2/catch.hpp>
#include <cmath>

#include "sim/run/forecast.h"

#include "tests/layouts.h"

using namespace bedshade;
using namespace bedshade::test;

namespace {

const GoOn kGoOn = [](double) { return true; };

/// Two plates that grow 40 mm a year in full light, and one that cannot grow.
Layout plates() {
    Layout layout = black_tank();
    layout.tank.length_m = 0.7;
    layout.tank.width_m = 0.5;
    layout.season.months = 8;
    layout.lamps = {lamp_at(Vec3(0.35, 0.25, 0.8), LampShape::disc, 0.3, 200.0)};
    Taxon plate = plain_coral(Form::laminar, 60.0);
    plate.extension_mm_yr = {40.0, 20.0, 80.0};
    plate.dli_min_mol_m2_d = 0.1;
    plate.dli_full_mol_m2_d = 4.0;
    layout.taxa = {plate, plate};
    layout.taxa[1].id = "still";
    layout.taxa[1].extension_mm_yr = {0.0, 0.0, 0.0};
    layout.colonies = {colony_at("left", 0, Vec3(0.17, 0.3, 0.2), 0.1, 0.02),
                       colony_at("right", 0, Vec3(0.53, 0.3, 0.2), 0.1, 0.02),
                       colony_at("still", 1, Vec3(0.35, 0.1, 0.2), 0.1, 0.02)};
    return layout;
}

double across_after(const Layout& layout, int colony, double day_d) {
    Forecast forecast(layout, {}, run_serially);
    double found_m = 0.0;
    struct Look final : SnapshotSink {
        Look(int the_colony, double day, double& into) : colony(the_colony), on(day), out(into) {}
        void take(const Snapshot& snapshot) override {
            if (snapshot.day_d <= on)
                out = mean_diameter_m(
                    snapshot.reef.colonies[static_cast<std::size_t>(colony)].radius_m);
        }
        int colony;
        double on;
        double& out;
    } observe(colony, day_d, found_m);
    forecast.run({&observe}, kGoOn);
    return found_m;
}

}  // namespace

TEST_CASE("diameters give back the growth rate of each colony") {
    Layout truth = plates();
    truth.colonies[0].growth_factor = 1.5;
    truth.colonies[1].growth_factor = 0.7;
    std::vector<MeasuredDiameter> measured;
    for (const double day : {119.0, 238.0})
        for (const int colony : {1, 0})
            measured.push_back({colony, day, across_after(truth, colony, day)});
    CHECK(measured[0].across_m > 0.102);
    const GrowthFit fit = fit_growth(plates(), measured, 1.0, 1, run_serially, kGoOn);
    REQUIRE(fit.finished);
    CHECK(fit.converged);
    REQUIRE(fit.colonies.size() == 2);
    const std::vector<double> growth = {1.5, 0.7};
    for (std::size_t i = 0; i < 2; ++i) {
        const FittedGrowth& found = fit.colonies[i];
        CHECK(found.colony == static_cast<int>(i));
        CHECK(std::abs(std::log(found.factor / growth[i])) < std::log(found.uncertainty_factor));
        CHECK(found.uncertainty_factor < 0.5 + 0.5 * found.known_to_before);
        CHECK(found.known_to_before == Approx(2.0));
    }
    for (const FittedDiameter& row : fit.diameters)
        CHECK(row.after_m == Approx(row.measured.across_m).epsilon(0.02));
    CHECK(open_questions(plates(), fit).empty());
    const Layout truncate = with_growth(plates(), fit);
    CHECK(truncate.colonies[0].growth_factor == fit.colonies[0].factor);
    CHECK(truncate.colonies[0].growth_known_to == fit.colonies[0].uncertainty_factor);
    CHECK_FALSE(truncate.colonies[2].growth_known_to);
}

TEST_CASE("a coral that did not grow gives no growth rate, and the report says so") {
    const GrowthFit fit = fit_growth(plates(), {{2, 200.0, 0.1}}, 1.0, 1, run_serially, kGoOn);
    REQUIRE(fit.colonies.size() == 1);
    CHECK(fit.colonies[0].uncertainty_factor == Approx(fit.colonies[0].known_to_before));
    const auto open = open_questions(plates(), fit);
    REQUIRE(open.size() == 1);
    CHECK(open[0].find("'still'") != std::string::npos);
}

TEST_CASE("a fit stops on request") {
    int asked = 0;
    const GoOn stop = [&](double) { return ++asked < 5; };
    const GrowthFit fit = fit_growth(plates(), {{0, 200.0, 0.12}}, 1.0, 1, run_serially, stop);
    CHECK_FALSE(fit.finished);
    CHECK(fit.colonies.empty());
    CHECK(asked == 5);
}
