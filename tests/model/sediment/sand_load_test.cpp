// Sand load on tissue: exact for any step.
#include "model/sediment/sand_load.h"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <limits>
#include <optional>

#include "model/sediment/sediment_rejection.h"

using namespace bedshade;

namespace {

SandStep step_of(double from_d, double to_d, double fallout, double clearing, double burial_d) {
    return {from_d, to_d, fallout, 1.0, clearing, burial_d, {}};
}

struct Season {
    std::optional<double> buried_at_d;
    SandLoad end;
    double mean_transmittance = 0.0;
};

/// A run of 84 days in steps, with deposits.
Season season(double step_d, double fallout, double clearing, double burial_d,
              const std::vector<Deposit>& deposits) {
    Season out;
    for (double t = 0.0; t < 84.0; t += step_d) {
        SandStep step = step_of(t, t + step_d, fallout, clearing, burial_d);
        for (const auto& d : deposits)
            if (d.time_d >= t && d.time_d < t + step_d) step.deposits.push_back(d);
        const auto result = follow_sand(out.end, step);
        if (!out.buried_at_d) out.buried_at_d = result.buried_at_d;
        out.end = result.end;
        out.mean_transmittance += result.mean_transmittance * step_d / 84.0;
    }
    return out;
}

/// Deposits that keep the load near the limit: cover begins and ends several times.
std::vector<Deposit> showers() {
    std::vector<Deposit> list;
    for (int i = 0; i < 160; ++i)
        list.push_back({0.37 + 0.519 * i, 0.08 + 0.06 * std::sin(1.7 * i), 0});
    return list;
}

}  // namespace

TEST_CASE("the load follows the exponential solution") {
    const auto out = follow_sand({0.2, 0.0}, step_of(3.0, 5.0, 0.5, 0.8, 1.0));
    const double expected = 0.625 + (0.2 - 0.625) * std::exp(-1.6);
    CHECK(out.end.load_kg_m2 == Approx(expected));
    CHECK(out.end.over_d == 0.0);
    CHECK_FALSE(out.buried_at_d);
    // dm/dt = D - k m, integrated: the mean load is (D T - gain)/(k T).
    CHECK(out.mean_load_kg_m2 == Approx((0.5 * 2.0 - (expected - 0.2)) / (0.8 * 2.0)));
}

TEST_CASE("the time of burial follows from the logarithm") {
    // Rises through 0.7 at ln(1/(1 - 0.7 k/D))/k, then lasts burial_d.
    const double k = 0.3, fallout = 0.25;
    const double crosses = -std::log(1.0 - 0.7 * k / fallout) / k;
    const auto out = follow_sand({}, step_of(0.0, 14.0, fallout, k, 1.5));
    REQUIRE(out.buried_at_d);
    CHECK(*out.buried_at_d == Approx(crosses + 1.5).epsilon(1e-12));
    CHECK(out.end.over_d == Approx(14.0 - crosses));
    // It is reported once.
    CHECK_FALSE(follow_sand(out.end, step_of(14.0, 28.0, fallout, k, 1.5)).buried_at_d);
}

TEST_CASE("cover that is rejected in time does not kill") {
    SandStep step = step_of(0.0, 7.0, 0.0, 1.0, 1.0);
    step.deposits = {{1.0, 1.4, 0}};
    const auto shed = follow_sand({}, step);
    CHECK_FALSE(shed.buried_at_d);  // 1.4 falls to 0.7 in ln 2 = 0.69 d
    CHECK(shed.end.over_d == 0.0);
    step.deposits = {{1.0, 1.4, 0}, {1.6, 0.7, 0}};
    const auto again = follow_sand({}, step);
    REQUIRE(again.buried_at_d);
    CHECK(*again.buried_at_d == Approx(2.0));
}

TEST_CASE("the day of death does not depend on the step") {
    const auto list = showers();
    int deaths = 0;
    for (const double clearing : {0.15, 0.18, 0.22, 0.35}) {
        const auto daily = season(1.0, 0.02, clearing, 1.3, list);
        for (const double step_d : {0.25, 7.0, 14.0}) {
            const auto other = season(step_d, 0.02, clearing, 1.3, list);
            REQUIRE(other.buried_at_d.has_value() == daily.buried_at_d.has_value());
            if (daily.buried_at_d) CHECK(std::abs(*other.buried_at_d - *daily.buried_at_d) < 1e-9);
            CHECK(other.end.load_kg_m2 == Approx(daily.end.load_kg_m2).epsilon(1e-12));
            CHECK(other.end.over_d == Approx(daily.end.over_d).margin(1e-9));
            CHECK(other.mean_transmittance == Approx(daily.mean_transmittance).epsilon(1e-9));
        }
        if (daily.buried_at_d) ++deaths;
    }
    CHECK(deaths > 0);
    CHECK(deaths < 4);
}

TEST_CASE("transmittance of sand is the mean over time, not that of the mean load") {
    for (const auto& [start, fallout, clearing] :
         {std::tuple{1.5, 0.0, 0.8}, std::tuple{0.0, 0.9, 0.6}, std::tuple{0.3, 0.2, 0.0},
          std::tuple{0.5, 0.4, 0.8}, std::tuple{2.0, 0.0, 40.0}}) {
        const auto step = step_of(0.0, 7.0, fallout, clearing, 99.0);
        const auto out = follow_sand({start, 0.0}, step);
        double sum = 0.0;
        const int n = 70000;
        for (int i = 0; i < n; ++i) {
            const double t = 7.0 * (i + 0.5) / n;
            const double m = clearing > 0.0 ? fallout / clearing + (start - fallout / clearing) *
                                                                       std::exp(-clearing * t)
                                            : start + fallout * t;
            sum += sand_transmittance(m) / n;
        }
        CHECK(out.mean_transmittance == Approx(sum).epsilon(1e-5));
    }
}

TEST_CASE("transmittance of a very large load is small and finite") {
    // Daily deposition is hundreds of times the load that dims light to 1/e, so that Ei overflows.
    // The mean of exp(-m/0.4) by Simpson's rule, for a load that rises from 0.
    const double length_d = 7.0, k = 0.6;
    for (const double fallout : {100.0, 119.9, 120.1, 180.0, 2000.0, 1e6}) {
        CAPTURE(fallout);
        const auto light = [&](double t) {
            return std::exp(fallout / k * std::expm1(-k * t) / 0.4);
        };
        // Almost all light passes before 60 dimming loads are reached.
        constexpr int kHalves = 20000;
        const double until_d = std::min(length_d, 60.0 * 0.4 / fallout), h = until_d / kHalves;
        double sum = light(0.0) + light(until_d);
        for (int i = 1; i < kHalves; ++i) sum += (i % 2 == 1 ? 4.0 : 2.0) * light(i * h);
        const auto out = follow_sand({}, step_of(0.0, length_d, fallout, k, 1.0));
        CHECK(out.mean_transmittance == Approx(sum * h / 3.0 / length_d).epsilon(1e-9));
    }
}

TEST_CASE("a shape keeps only its share of deposition") {
    SandStep step = step_of(0.0, 1.0, 0.4, 0.0, 1.0);
    step.kept_share = 0.25;
    step.deposits = {{0.5, 0.8, 0}};
    CHECK(follow_sand({}, step).end.load_kg_m2 == Approx(0.25 * (0.4 + 0.8)));
}

TEST_CASE("a coral that excavates itself is clean after digs_out_d of cover") {
    SandStep step = step_of(0.0, 3.0, 0.0, 0.1, 7.0);
    step.deposits = {{1.0, 15.0, 0}};
    step.digs_out_d = 0.625;
    const auto out = follow_sand({}, step);
    CHECK(out.end.load_kg_m2 == 0.0);
    CHECK(out.end.over_d == 0.0);
    CHECK_FALSE(out.buried_at_d);
    // Dark for 0.625 of the three days, bright for the rest.
    CHECK(out.mean_transmittance == Approx((3.0 - 0.625) / 3.0).margin(1e-3));
    step.digs_out_d = std::numeric_limits<double>::infinity();
    CHECK(follow_sand({}, step).end.load_kg_m2 > 10.0);
}

TEST_CASE("the time of excavation does not depend on the step") {
    const auto load_at = [](double step_d) {
        SandLoad load;
        for (double t = 0.0; t < 21.0 - 1e-9; t += step_d) {
            SandStep step = step_of(t, t + step_d, 0.5, 0.3, 7.0);
            step.digs_out_d = 0.625;
            load = follow_sand(load, step).end;
        }
        return load.load_kg_m2;
    };
    // 0.5 kg/m2 a day crosses the limit after about 1.8 d and is removed 0.625 d later.
    CHECK(load_at(21.0) == Approx(load_at(7.0)).epsilon(1e-9));
    CHECK(load_at(7.0) == Approx(load_at(0.25)).epsilon(1e-9));
    CHECK(load_at(7.0) < 1.1);
}
