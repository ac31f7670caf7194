// Corals set elsewhere in small tanks: where they may stand, and that the one worst off gains.
#include "sim/arrange/arrange.h"

#include <algorithm>
#include <catch2/catch.hpp>

#include "sim/arrange/arrange_report.h"
#include "sim/base/pool.h"

#include "tests/layouts.h"

using namespace bedshade;
using namespace bedshade::test;

namespace {

/// A wide plate under a lamp, a dome in its shadow, and a low box of rock at the back.
Layout dome_under_plate() {
    Layout layout = plate_and_dome(0.2, Vec3(0.3, 0.3, 0.0));
    layout.season.months = 2;
    layout.taxa[1].spreads_on = SpreadsOn::both;
    layout.rocks = {Rock{"shelf", RockBox{Vec3(0.0, 0.45, 0.0), Vec3(0.6, 0.6, 0.1)}}};
    return layout;
}

ArrangeOptions quick() {
    ArrangeOptions options;
    options.movable = {1};
    options.forecasts = 20;
    options.fresh = 2;
    return options;
}

ArrangeAdvice advice_for(const Layout& layout, const ArrangeOptions& options, int threads = 1) {
    Pool pool(threads);
    RunBudget work(100.0, pool.parallel_for(), [](double) { return true; });
    return arrange(layout, options, pool.parallel_for(), work);
}

}  // namespace

TEST_CASE("a coral may stand on sand or level rock, inside the glass and out of the rock") {
    const Layout layout = dome_under_plate();
    const auto sites = standing_sites(layout, 1);
    CHECK(sites.front() == baseline_site(layout.colonies[1]));
    int on_sand = 0, on_rock = 0;
    for (const StandingSite& site : sites) {
        (site.on == "sand" ? on_sand : on_rock) += 1;
        CHECK(site.at_m.x() >= 0.05 - 1e-9);
        CHECK(site.at_m.x() <= 0.55 + 1e-9);
        if (site.on == "sand") CHECK(site.at_m.y() < 0.45 - 0.04 + 1e-9);
        if (site.on == "shelf") CHECK(site.at_m.z() == Approx(0.1));
    }
    CHECK(on_sand > 200);
    CHECK(on_rock > 30);
}

TEST_CASE("loose corals go on sand only, attached ones on rock only") {
    Layout layout = dome_under_plate();
    layout.taxa[1].form = Form::free_living_disc;
    for (const StandingSite& site : standing_sites(layout, 1)) CHECK(site.on == "sand");
    layout.taxa[1].form = Form::massive;
    layout.taxa[1].spreads_on = SpreadsOn::rock;
    const auto sites = standing_sites(layout, 1);
    CHECK(std::all_of(sites.begin() + 1, sites.end(),
                      [](const StandingSite& site) { return site.on == "shelf"; }));
}

TEST_CASE("neighbours are in the way beside a coral, not far above it") {
    Layout layout = dome_under_plate();
    CHECK(is_free_of_neighbours(layout, 1, baseline_site(layout.colonies[1])));
    CHECK_FALSE(is_free_of_neighbours(layout, 1, {Vec3(0.43, 0.3, 0.24), ""}));
    CHECK(is_free_of_neighbours(layout, 1, {Vec3(0.46, 0.3, 0.24), ""}));
}

TEST_CASE("the dome is moved out of the plate's shadow") {
    const Layout layout = dome_under_plate();
    const ArrangeAdvice advice = advice_for(layout, quick());
    REQUIRE(advice.finished);
    REQUIRE(advice.moved.size() == 1);
    CHECK(advice.moved[0].colony == 1);
    CHECK(advice.best_estimate.given.worst == 1);
    CHECK(advice.best_estimate.given.cause_of[1] == 0);
    CHECK(advice.best_estimate.given.colonies[1].kind == MarginKind::light);
    CHECK(advice.best_estimate.arranged.value() > advice.best_estimate.given.value() + 0.3);
    CHECK(advice.fine.arranged.value() ==
          Approx(advice.best_estimate.arranged.value()).margin(0.05));
    CHECK(fresh_summary(advice).better == 2);
    CHECK(advice.searched <= 20);
    CHECK(advice.at_random.size() == static_cast<std::size_t>(advice.searched));
    CHECK(advice.work <= work_of_arranging(quick()));
    CHECK(advice.arranged.colonies[0].position_m == layout.colonies[0].position_m);
    CHECK(arrange_text(layout, quick(), advice).find("1 coral is moved") == 0);
}

TEST_CASE("the arrangement does not depend on the number of threads", "[threads]") {
    const Layout layout = dome_under_plate();
    const std::string one = arrange_json(layout, quick(), advice_for(layout, quick(), 1), {}, {});
    for (const int threads : {2, 8})
        CHECK(arrange_json(layout, quick(), advice_for(layout, quick(), threads), {}, {}) == one);
}

TEST_CASE("if only the plate may move, it is moved, and if neither may, nothing is") {
    Layout layout = dome_under_plate();
    layout.taxa[0].spreads_on = SpreadsOn::both;
    ArrangeOptions options = quick();
    options.movable = {0};
    const ArrangeAdvice advice = advice_for(layout, options);
    REQUIRE(advice.moved.size() == 1);
    CHECK(advice.moved[0].colony == 0);
    CHECK(advice.best_estimate.arranged.value() > advice.best_estimate.given.value() + 0.1);
    options.movable = {};
    const ArrangeAdvice none = advice_for(layout, options);
    CHECK(none.moved.empty());
    CHECK(none.searched == 1);
    CHECK(arrange_text(layout, options, none).find("No better position") == 0);
}

TEST_CASE("the search for positions stops on request") {
    RunBudget work(100.0, run_serially, [](double done) { return done < 2.5; });
    CHECK_FALSE(arrange(dome_under_plate(), quick(), run_serially, work).finished);
    CHECK(work.done() < 4.0);
}

TEST_CASE("moves are written as colonies of a change file") {
    const Layout layout = dome_under_plate();
    ArrangeAdvice advice;
    advice.moved = {{1, {Vec3(0.3, 0.3, 0.0), "sand"}, {Vec3(0.1, 0.525, 0.1), "shelf"}}};
    CHECK(arrange_change(layout, advice) ==
          "[[colony]]\nname = \"dome\"\non = \"shelf\"\nposition = \"10 52.5 cm\"\n");
}
