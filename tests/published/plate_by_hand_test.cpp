// The whole job against an answer worked out by hand.
//
// A plate whose radius grows at a known rate stands coaxial between a disc-shaped diffuse lamp and
// one bed coral. With index 1, black walls and no absorption the coral's light is
//     E(t) = pi L [ R^2/(R^2 + H^2) - r(t)^2/(r(t)^2 + h^2) ]
// for a lamp of radius R at height H over the coral and a plate of radius r at height h: the view
// factor of a coaxial disc (Howell, Catalog of Radiation Configuration Factors), light of the lamp
// less light of the part of it that the plate hides. The month in which its 30-day mean carbon
// turns negative is then known without the program.
#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>

#include "model/growth/forms.h"

#include "sim/run/forecast.h"
#include "sim/verdict/flag_detector.h"

#include "tests/layouts.h"

using namespace bedshade;
using namespace bedshade::test;

namespace {

constexpr double kLampRadius_m = 0.25;
constexpr double kLampHeight_m = 0.10;  // over the water
constexpr double kFlux_umol_s = 60.0;
constexpr double kHours = 10.0;
constexpr double kPlateStart_m = 0.03;  // radius

struct Case {
    double plate_z_m, rate_mm_yr, need_of_open;
};

Layout layout_of(const Case& c, double saturation_umol_m2_s) {
    Layout layout = black_tank();
    layout.lamps = {lamp_at(Vec3(1.0, 1.0, 0.5 + kLampHeight_m), LampShape::disc,
                            2.0 * kLampRadius_m, kFlux_umol_s)};
    Taxon plate = plain_coral(Form::laminar, 0.01);  // light-saturated
    plate.extension_mm_yr = {c.rate_mm_yr, c.rate_mm_yr, c.rate_mm_yr};
    plate.dli_full_mol_m2_d = 0.01;
    plate.dli_min_mol_m2_d = 0.001;
    layout.taxa = {plate, plain_coral(Form::encrusting, saturation_umol_m2_s)};
    layout.colonies = {
        colony_at("plate", 0, Vec3(1.0, 1.0, c.plate_z_m), 2.0 * kPlateStart_m, 0.005),
        colony_at("bed coral", 1, Vec3(1.0, 1.0, 0.0), 0.01, 0.003)};
    return layout;
}

/// Heights as the program draws them: of the coral's tissue, and of the lower edge of the plate's
/// rim, which is what hides the lamp from a point below.
struct Heights {
    double coral_m, rim_m;
};

double lower_edge_m(const ColonyShape& plate) {
    double lowest = 1e9;
    for (const Eigen::Vector3f& v : mesh_of(plate).vertices_m) {
        const Vec3 from_axis = v.cast<double>() - plate.base_m;
        if (from_axis.head<2>().norm() > 0.99 * plate.radius_m[0])
            lowest = std::min(lowest, static_cast<double>(v.z()));
    }
    return lowest;
}

Heights heights_of(const Layout& layout) {
    const auto shape = [&](std::size_t i) {
        const Colony& colony = layout.colonies[i];
        ColonyState state;
        state.position_m = colony.position_m;
        state.radius_m.fill(0.5 * colony.diameter_m);
        state.height_m = colony.height_m;
        return shape_of(layout.taxon_of(colony), colony, state);
    };
    double area = 0.0, coral = 0.0;
    for (const LivePatch& patch : live_patches(shape(1))) {
        coral += patch.area_m2 * patch.position_m.z();
        area += patch.area_m2;
    }
    return {coral / area, lower_edge_m(shape(0))};
}

double disc_share(double radius_m, double height_m) {
    return radius_m * radius_m / (radius_m * radius_m + height_m * height_m);
}

/// The day on which the 30-day mean of net carbon first is below zero, by the closed form.
double hand_day(const Case& c, const Heights& heights, double saturation, double production_ratio) {
    const double emittance = kFlux_umol_s / (kPi * kLampRadius_m * kLampRadius_m);  // pi L
    const double lamp_h = 0.5 + kLampHeight_m - heights.coral_m;
    const double plate_h = heights.rim_m - heights.coral_m;
    const auto net = [&](double day) {
        const double r = kPlateStart_m + 1e-3 * c.rate_mm_yr * day / 365.25;
        const double light =
            emittance * std::max(0.0, disc_share(kLampRadius_m, lamp_h) - disc_share(r, plate_h));
        return production_ratio * kHours / 24.0 * std::tanh(light / saturation) - 0.8;
    };
    constexpr double kTick_d = 0.05;
    for (double day = 30.0; day < 731.0; day += kTick_d) {
        double sum = 0.0;
        for (int i = 0; i < 600; ++i) sum += net(day - 30.0 + (i + 0.5) * kTick_d);
        if (sum < 0.0) return day;
    }
    return -1.0;
}

}  // namespace

TEST_CASE("the plate starves the bed in the month worked out by hand") {
    const Case c = GENERATE(Case{0.15, 60.0, 0.5}, Case{0.20, 40.0, 0.4}, Case{0.28, 90.0, 0.6},
                            Case{0.20, 20.0, 0.7}, Case{0.15, 25.0, 0.4});
    // The coral needs a stated share of the light it has without the plate.
    const double emittance = kFlux_umol_s / (kPi * kLampRadius_m * kLampRadius_m);
    const double open = emittance * disc_share(kLampRadius_m, 0.5 + kLampHeight_m);
    const double production_ratio = 1.0 / std::tanh(0.28);
    const double saturation =
        c.need_of_open * open / std::atanh(0.8 * 24.0 / (kHours * production_ratio));

    const Layout layout = layout_of(c, saturation);
    const double expected = hand_day(c, heights_of(layout), saturation, production_ratio);
    REQUIRE(expected > 60.0);  // the case is one in which it happens, and not at once

    FlagDetector detector(layout);
    Forecast forecast(layout, {}, run_serially);
    REQUIRE(forecast.run({&detector}, [](double) { return true; }));
    REQUIRE(detector.flags().size() >= 1);
    const auto flag = std::find_if(detector.flags().begin(), detector.flags().end(),
                                   [](const Flag& f) { return f.kind == FlagKind::light_short; });
    REQUIRE(flag != detector.flags().end());
    INFO("by hand day " << expected << ", flagged on day " << flag->day_d);
    CHECK(flag->colony == 1);
    CHECK(flag->culprit_kind == CulpritKind::colony);
    CHECK(flag->culprit == 0);
    CHECK(std::abs(flag->day_d - expected) <= layout.season.step_d);
    CHECK(plate_starves_bed(*flag, layout));
}
