// A coral under more sand than it sheds: how fast it dies, and whose sand it is said to be.
#include <catch2/catch.hpp>
#include <cmath>

#include "sim/report/report.h"
#include "sim/verdict/flag_detector.h"

#include "tests/layouts.h"
#include "tests/sim/run/recorded_run.h"

using namespace bedshade;
using namespace bedshade::test;

namespace {

constexpr double kHoldsOut_d = 10.0;

/// A bowl that sheds nothing, and an animal that digs beside it by night.
Layout bowl_beside_a_digger() {
    Layout layout = black_tank();
    layout.season.months = 3;
    layout.season.step_d = 7.0;
    layout.taxa = {plain_coral(Form::massive, 100.0)};
    layout.taxa[0].sand_trap = 1.0;
    layout.taxa[0].clearing_still_per_d = 0.0;
    layout.taxa[0].burial_d = kHoldsOut_d;
    layout.colonies = {colony_at("bowl", 0, Vec3(1.0, 1.0, 0.0), 0.06, 0.03)};
    Inhabitant digger;
    digger.name = "digger";
    digger.events_per_day = 60.0;
    digger.mass_kg = 0.01;
    digger.lift_m = 0.1;
    digger.from_h = 20.0;
    digger.to_h = 6.0;
    digger.around_m = Vec2(1.0, 1.0);
    digger.radius_m = 0.2;
    layout.inhabitants = {digger};
    return layout;
}

}  // namespace

TEST_CASE("buried tissue halves in as many days as it held out, and the digger is named") {
    const Layout layout = bowl_beside_a_digger();
    Forecast forecast(layout, {}, run_serially);
    FlagDetector detector(layout);
    Kept kept;
    forecast.run({&kept, &detector}, [](double) { return true; });

    int halving = 0;
    for (std::size_t k = 1; k < kept.snapshots.size(); ++k) {
        const ColonyState& before = kept.snapshots[k - 1].reef.colonies[0];
        const ColonyState& after = kept.snapshots[k].reef.colonies[0];
        // Past the days it holds out, the whole step counts.
        if (before.sand_over_d < kHoldsOut_d || after.live_fraction <= 0.0) continue;
        ++halving;
        CHECK(after.lost.to_sand - before.lost.to_sand ==
              Approx(before.live_fraction - after.live_fraction).margin(1e-12));
        CHECK(after.live_fraction / before.live_fraction ==
              Approx(std::exp2(-7.0 / kHoldsOut_d)).epsilon(1e-12));
    }
    CHECK(halving >= 3);
    CHECK(kept.snapshots.back().reef.colonies[0].live_fraction == 0.0);

    REQUIRE_FALSE(detector.flags().empty());
    const Flag& flag = detector.flags()[0];
    CHECK(flag.kind == FlagKind::buried);
    CHECK(culprit_name(layout, flag) == "digger");
    const std::string told = flag_text(layout, flag);
    CHECK(told.find("; most of it (100 %) from 'digger'") != std::string::npos);
}
