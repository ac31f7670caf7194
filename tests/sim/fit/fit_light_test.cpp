// Fits of lamps and water, on readings made from tanks whose truth is known.
#include "sim/fit/fit_light.h"

#include <catch2/catch.hpp>
#include <cmath>

#include "model/base/random.h"

#include "sim/base/pool.h"
#include "sim/fit/water_table.h"
#include "sim/run/calibration.h"
#include "sim/run/prior.h"

#include "tests/layouts.h"

using namespace bedshade;
using namespace bedshade::test;

namespace {

/// A small tank of coloured water under two lamps.
Layout two_lamps() {
    Layout layout = black_tank();
    layout.tank.length_m = 0.6;
    layout.tank.width_m = 0.4;
    layout.water = Water();
    layout.water.yellowing_per_m = 0.4;
    layout.water.turbidity_kg_m3 = 1e-3;
    layout.lamps = {lamp_at(Vec3(0.2, 0.2, 0.65), LampShape::disc, 0.1, 60.0),
                    lamp_at(Vec3(0.45, 0.2, 0.65), LampShape::disc, 0.1, 80.0)};
    layout.lamps[1].name = "other lamp";
    return layout;
}

/// Where a keeper would hold the meter: under each lamp and between, high and low.
std::vector<Reading> places() {
    std::vector<Reading> readings;
    for (const double z : {0.02, 0.2, 0.45})
        for (const double x : {0.2, 0.32, 0.45}) {
            Reading reading;
            reading.at_m = Vec3(x, 0.2, z);
            readings.push_back(reading);
        }
    return readings;
}

/// What is true of one tank, as logarithms.
struct Truth {
    double output, water;
    std::vector<Reading> readings;
};

/// A tank drawn from what is known before, read with a meter that is off as meters are.
Truth tank_of(std::uint64_t seed, std::vector<Reading> readings, const MeterError& error) {
    RandomStream random(seed, 1, Process::traits, 0, 0);
    Truth truth{std::log(kOutputAssumed) / kScoreAt95 * random.normal(),
                std::log(kWaterAssumed) / kScoreAt95 * random.normal(),
                {}};
    Layout tank = with_water(two_lamps(), std::exp(truth.water));
    for (Lamp& lamp : tank.lamps)
        lamp.photon_flux_umol_s *=
            std::exp(truth.output + std::log(1.1) / kScoreAt95 * random.normal());
    const double calibration = std::exp(error.calibration * random.normal());
    const auto light = lamp_light_at(tank, readings);
    for (std::size_t i = 0; i < readings.size(); ++i)
        readings[i].ppfd_umol_m2_s =
            calibration * (light[i][0] + light[i][1]) * (1.0 + error.scatter * random.normal());
    truth.readings = std::move(readings);
    return truth;
}

bool within_90_percent(const FittedFactor& found, double truth) {
    return std::abs(truth - std::log(found.best)) <= std::log(found.uncertainty_factor);
}

struct Hits {
    int output = 0, water = 0;
};

Hits hits_of(int tanks) {
    Hits hits;
    Pool pool(allotted_processors());
    for (int k = 0; k < tanks; ++k) {
        const Truth truth = tank_of(static_cast<std::uint64_t>(k), places(), {});
        const LightFit fit = fit_light(two_lamps(), truth.readings, {}, pool.parallel_for());
        CHECK(fit.converged);
        hits.output += within_90_percent(fit.output, truth.output) ? 1 : 0;
        hits.water += within_90_percent(fit.water, truth.water) ? 1 : 0;
    }
    return hits;
}

}  // namespace

TEST_CASE("light interpolated between the waters of the table matches the model") {
    const std::vector<Reading> readings = places();
    const Layout layout = two_lamps();
    const WaterTable table(layout, readings, run_serially);
    for (const double log_factor : {-1.9, -0.7, 0.1, 0.63, 1.8}) {
        const auto exact = lamp_light_at(with_water(layout, std::exp(log_factor)), readings);
        for (std::size_t i = 0; i < readings.size(); ++i)
            for (std::size_t lamp = 0; lamp < 2; ++lamp)
                CHECK(table.light(i, lamp, log_factor) == Approx(exact[i][lamp]).epsilon(2e-3));
    }
}

TEST_CASE("perfect readings of a known tank give back its factors") {
    Layout tank = with_water(two_lamps(), 1.5);
    for (Lamp& lamp : tank.lamps) lamp.photon_flux_umol_s *= 0.8;
    std::vector<Reading> readings = places();
    const auto light = lamp_light_at(tank, readings);
    for (std::size_t i = 0; i < readings.size(); ++i)
        readings[i].ppfd_umol_m2_s = light[i][0] + light[i][1];
    const LightFit fit = fit_light(two_lamps(), readings, {0.001, 0.001}, run_serially);
    for (const double factor : fit.lamp_output) CHECK(factor == Approx(0.8).epsilon(0.01));
    // What both lamps share may as well be a little of each one's own.
    CHECK(within_90_percent(fit.output, std::log(0.8)));
    CHECK(fit.water.best == Approx(1.5).epsilon(0.02));
    CHECK(fit.output.uncertainty_factor < 1.1);
    CHECK(fit.water.uncertainty_factor < 1.05);
    CHECK(fit.condition < 10.0);
    for (const std::string& open : open_questions(fit)) FAIL_CHECK(open);
    for (const FittedReading& row : fit.readings)
        CHECK(row.after_umol_m2_s == Approx(row.reading.ppfd_umol_m2_s).epsilon(2e-3));
    const Layout truncate = with_light(two_lamps(), fit);
    CHECK(truncate.water.yellowing_per_m == Approx(0.4 * 1.5).epsilon(0.02));
    CHECK(truncate.lamps[1].photon_flux_umol_s == Approx(64.0).epsilon(0.01));
    CHECK(truncate.measured.output_known_to == fit.output.uncertainty_factor);
}

TEST_CASE("readings at one depth cannot separate lamps from water, and the report says so") {
    std::vector<Reading> readings = places();
    readings.resize(3);
    const Truth truth = tank_of(7, readings, {});
    const LightFit fit = fit_light(two_lamps(), truth.readings, {}, run_serially);
    CHECK(fit.condition > 10.0);
    CHECK(fit.water.remaining_uncertainty() > 0.7);
    CHECK(open_questions(fit).size() >= 2);
    // What they do tell they tell together: more light, or clearer water.
    CHECK(fit.water_with_output > 0.3);
}

TEST_CASE("an outlier widens the uncertainty") {
    Truth truth = tank_of(3, places(), {});
    const LightFit good = fit_light(two_lamps(), truth.readings, {}, run_serially);
    truth.readings[4].ppfd_umol_m2_s *= 2.5;
    const LightFit bad = fit_light(two_lamps(), truth.readings, {}, run_serially);
    CHECK(bad.scatter > 1.5);
    CHECK(bad.output.uncertainty_factor > good.output.uncertainty_factor);
    CHECK(bad.water.uncertainty_factor > good.water.uncertainty_factor);
    CHECK_FALSE(open_questions(bad).empty());
}

TEST_CASE("the true values of a few tanks are mostly within their intervals") {
    // Of 20 at 90 % fewer than 13 come once in 40,000 times (binomial).
    const Hits hits = hits_of(20);
    CHECK(hits.output >= 13);
    CHECK(hits.water >= 13);
}

TEST_CASE("the true values of 200 tanks are within their 90 % intervals nine times in ten",
          "[.][long]") {
    const Hits hits = hits_of(200);
    CHECK(hits.output >= 170);
    CHECK(hits.output <= 190);
    CHECK(hits.water >= 170);
    CHECK(hits.water <= 190);
}
