// Plans of cuts for small tanks: found, as late as can be, and honest about what no cut helps.
#include "sim/trim/trim.h"

#include <algorithm>
#include <catch2/catch.hpp>
#include <numeric>

#include "sim/base/pool.h"
#include "sim/trim/cut_flags.h"
#include "sim/trim/trim_report.h"

#include "tests/layouts.h"

using namespace bedshade;
using namespace bedshade::test;

namespace {

/// A fast plate under a point lamp, whose shadow creeps over a dome on the sand.
Layout plate_over_dome() {
    Layout layout = plate_and_dome(0.16, Vec3(0.47, 0.3, 0.0));
    layout.season.months = 14;
    layout.taxa[0].extension_mm_yr = {60.0, 40.0, 90.0};
    layout.taxa[0].dli_full_mol_m2_d = 10.0;
    return layout;
}

TrimOptions quick() {
    TrimOptions options;
    options.members = 2;
    options.fresh = 2;
    return options;
}

TrimAdvice advice_for(const Layout& layout, int threads = 1, const TrimOptions& options = quick()) {
    Pool pool(threads);
    RunBudget work(100.0, pool.parallel_for(), [](double) { return true; });
    return advise_cuts(layout, options, work);
}

/// The first trouble of the best estimate under some cuts.
std::optional<Flag> flag_with(const Layout& layout, const std::vector<Cut>& cuts) {
    RunBudget work(10.0, run_serially, [](double) { return true; });
    TrimMembers members(layout, {}, work);
    return members.run(cuts, {0}, TrimMembers::Until::horizon).front().unprevented;
}

Flag flag(FlagKind kind, double day_d, int colony, int by) {
    Flag f;
    f.kind = kind;
    f.day_d = day_d;
    f.colony = colony;
    f.culprit = by;
    f.culprit_kind = by < 0 ? CulpritKind::self : CulpritKind::colony;
    return f;
}

}  // namespace

TEST_CASE("cuts fall on the first whole day of a month") {
    CHECK(first_day_of(1) == 0.0);
    CHECK(first_day_of(2) == 31.0);
    CHECK(first_day_of(3) == 61.0);
    CHECK(last_month_before(0.0) == 0);
    CHECK(last_month_before(1.0) == 1);
    CHECK(last_month_before(31.0) == 1);
    CHECK(last_month_before(31.5) == 2);
    CHECK(last_month_before(100.0) == 4);
}

TEST_CASE("the coral to cut takes the light, reaches the other, or is outgrown") {
    Layout layout = plate_over_dome();
    CHECK(colony_to_cut(layout, flag(FlagKind::light_short, 9.0, 1, 0)) == 0);
    CHECK(colony_to_cut(layout, flag(FlagKind::stung, 9.0, 1, 0)) == 0);
    CHECK(colony_to_cut(layout, flag(FlagKind::outgrown, 9.0, 1, -1)) == 1);
    CHECK_FALSE(colony_to_cut(layout, flag(FlagKind::too_dim, 9.0, 1, 0)));
    CHECK_FALSE(colony_to_cut(layout, flag(FlagKind::buried, 9.0, 1, -1)));
    layout.taxa[0].form = Form::solitary;
    CHECK_FALSE(colony_to_cut(layout, flag(FlagKind::light_short, 9.0, 1, 0)));
    CHECK(colony_to_cut(layout, flag(FlagKind::overgrown, 9.0, 1, 0)) == 1);
    layout.taxa[1].form = Form::free_living_disc;
    CHECK_FALSE(colony_to_cut(layout, flag(FlagKind::overgrown, 9.0, 1, 0)));
    CHECK(why_no_cut_helps(layout, flag(FlagKind::overgrown, 9.0, 1, 0)).find("move") !=
          std::string::npos);
}

TEST_CASE("flags that no cut prevents have a reason, the others none") {
    Layout layout = plate_over_dome();
    const auto why = [&](FlagKind kind, int by) {
        return why_no_cut_helps(layout, flag(kind, 9.0, 1, by));
    };
    CHECK(why(FlagKind::light_short, 0).empty());
    CHECK(why(FlagKind::too_dim, 0) ==
          "its spot is too dark even with every neighbour at its first size; a smaller 'plate' "
          "from the first day might help");
    CHECK(why(FlagKind::too_dim, -1) ==
          "its spot is too dark even with every neighbour at its first size");
    CHECK(why(FlagKind::starved, -1) ==
          "its spot is too dark: no neighbour takes the light it lacks");
    CHECK(why(FlagKind::too_bright, -1) == "a cut does not reduce the light");
    CHECK(why(FlagKind::buried, -1) == "a cut does not stop sand");
    CHECK(why(FlagKind::flow_harsh, -1) == "the model assumes that cuts do not change the flow");
    CHECK(why(FlagKind::fallen, -1) == "a cut does not keep a loose coral in place");
    CHECK(why(FlagKind::irritated, -1) == "no cut changes that");
    layout.taxa[0].form = Form::solitary;
    CHECK(why(FlagKind::light_short, 0) == "the coral that shades it is of a kind that is not cut");
    layout.taxa[1].form = Form::free_living_disc;
    CHECK(why(FlagKind::outgrown, -1) == "it is of a kind that is not cut");
}

TEST_CASE("contacts of walking corals are left to no cut") {
    Layout layout = plate_over_dome();
    const std::vector<Flag> none;
    const Flag reached = flag(FlagKind::stung, 9.0, 1, 0);
    REQUIRE(first_counted_flag(layout, {reached}, none));
    layout.taxa[1].mobility_m_d = 0.02;  // 60 cm a month, and 8 cm across
    layout.colonies[1].attached = false;
    CHECK_FALSE(colony_to_cut(layout, reached));
    CHECK_FALSE(first_counted_flag(layout, {reached}, none));
    CHECK(left_alone(layout, {reached}, none).size() == 1);
    CHECK(why_no_cut_helps(layout, reached).find("walks") != std::string::npos);
    layout.colonies[1].attached = true;
    CHECK(colony_to_cut(layout, reached) == 0);
}

TEST_CASE("a plan is judged on growth on the bed and on its own side effects") {
    const Layout layout = plate_over_dome();
    const std::vector<Flag> none;
    const Flag shaded = flag(FlagKind::light_short, 200.0, 1, 0);
    CHECK(first_counted_flag(layout, {shaded}, none)->day_d == 200.0);
    // Off the bed, or of a spot that was too dim before anything had grown, it does not.
    CHECK_FALSE(first_counted_flag(layout, {flag(FlagKind::stung, 9.0, 0, 1)}, none));
    const Flag dim = flag(FlagKind::too_dim, 40.0, 1, 0);
    const Flag hungry = flag(FlagKind::starved, 200.0, 1, -1);
    CHECK_FALSE(first_counted_flag(layout, {dim, hungry}, none));
    CHECK(left_alone(layout, {dim, hungry}, none).size() == 2);
    // But hunger there that a plate is the cause for is a cut's to keep away.
    CHECK(first_counted_flag(layout, {dim, shaded}, none)->day_d == 200.0);
    CHECK(left_alone(layout, {dim, shaded}, none).size() == 1);
    // Strong light is nothing a cut helps, but one may bring it.
    const Flag bright = flag(FlagKind::too_bright, 50.0, 1, -1);
    CHECK(first_counted_flag(layout, {bright}, none));
    CHECK_FALSE(first_counted_flag(layout, {bright}, {bright}));
    CHECK(depends_on_run_without_cuts(layout, {bright}));
    CHECK_FALSE(depends_on_run_without_cuts(layout, {shaded, dim}));
}

TEST_CASE(
    "starvation that a cut could have prevented counts against the plan, whatever its culprit") {
    const Layout layout = plate_over_dome();
    const Flag by_plate = flag(FlagKind::starved, 200.0, 1, 0);
    const Flag by_itself = flag(FlagKind::starved, 240.0, 1, -1);
    const auto unprevented = first_counted_flag(layout, {by_itself}, {by_plate});
    REQUIRE(unprevented);
    CHECK(unprevented->day_d == 240.0);
    CHECK(colony_to_cut(layout, *unprevented) == 0);
    CHECK(left_alone(layout, {by_itself}, {by_plate}).empty());
    CHECK_FALSE(first_counted_flag(layout, {by_itself}, {by_itself}));
}

TEST_CASE("an uncuttable coral at its largest size does not count against a plan") {
    Layout layout = plate_over_dome();
    layout.taxa[1].form = Form::solitary;
    const Flag grown = flag(FlagKind::outgrown, 300.0, 1, -1);
    CHECK_FALSE(first_counted_flag(layout, {grown}, {}));
    CHECK_FALSE(depends_on_run_without_cuts(layout, {grown}));
    CHECK(left_alone(layout, {grown}, {}).size() == 1);
    for (const FlagKind kind : {FlagKind::strayed, FlagKind::fallen})
        CHECK_FALSE(first_counted_flag(layout, {flag(kind, 300.0, 1, -1)}, {}));
}

TEST_CASE("one late cut saves the dome, and a month later it would not have") {
    const Layout layout = plate_over_dome();
    REQUIRE(flag_with(layout, {}));
    CHECK(flag_with(layout, {})->kind == FlagKind::light_short);
    TrimOptions options = quick();
    options.members = 1;
    const TrimAdvice advice = advice_for(layout, 1, options);
    REQUIRE(advice.finished);
    REQUIRE(advice.plan.reached);
    REQUIRE(advice.plan.cuts.size() == 1);
    Cut cut = advice.plan.cuts[0];
    CHECK(cut.colony == 0);
    CHECK(cut.to_m >= 0.08 - 1e-9);
    CHECK_FALSE(flag_with(layout, {cut}));
    REQUIRE(advice.best_estimate.cuts.size() == 1);
    CHECK(advice.best_estimate.cuts[0].cut_m2 > 0.0);
    CHECK_FALSE(advice.best_estimate.unprevented);
    cut.day_d = first_day_of(last_month_before(cut.day_d + 1.0) + 1);
    cut.to_m = 0.08;
    CHECK(flag_with(layout, {cut}));
}

TEST_CASE("a plan does not depend on threads, and keeps to its work budget", "[threads]") {
    const Layout layout = plate_over_dome();
    const TrimAdvice one = advice_for(layout, 1);
    for (const int threads : {2, 8}) {
        const TrimAdvice more = advice_for(layout, threads);
        CHECK(more.plan.cuts == one.plan.cuts);
        CHECK(more.work == one.work);
        CHECK(trim_json(layout, quick(), more, 0.03, {}, {}) ==
              trim_json(layout, quick(), one, 0.03, {}, {}));
    }
    RunBudget little(12.0, run_serially, [](double) { return true; });
    CHECK(advise_cuts(layout, quick(), little).work <= 12.0);
    CHECK(one.planned.runs.size() == 2);
    CHECK(one.planned.clear() >= one.no_cuts.clear());
    CHECK(one.quarterly.mean_cuts() > one.planned.mean_cuts());
}

TEST_CASE("where nothing grows no cut is advised") {
    Layout layout = plate_over_dome();
    layout.taxa[0].extension_mm_yr = {0.0, 0.0, 0.0};
    const TrimAdvice advice = advice_for(layout);
    CHECK(advice.plan.reached);
    CHECK(advice.plan.cuts.empty());
    CHECK(trim_text(layout, quick(), advice, 0.03).find("No cut is needed") == 0);
}

TEST_CASE("corals that are not cut are named and left alone") {
    Layout layout = plate_over_dome();
    layout.taxa[0].form = Form::solitary;
    layout.taxa[0].extension_mm_yr = {90.0, 90.0, 90.0};
    const TrimAdvice advice = advice_for(layout);
    CHECK(advice.plan.cuts.empty());
    REQUIRE_FALSE(advice.left_alone.empty());
    CHECK(advice.left_alone[0].flag.colony == 1);
    CHECK(trim_text(layout, quick(), advice, 0.03).find("a kind that is not cut") !=
          std::string::npos);
}

TEST_CASE("the search for cuts stops on request") {
    RunBudget work(100.0, run_serially, [](double done) { return done < 2.5; });
    CHECK_FALSE(advise_cuts(plate_over_dome(), quick(), work).finished);
    CHECK(work.done() < 4.0);
}

TEST_CASE("members that a plan fails are added, and the plan is improved for them") {
    const Layout layout = plate_over_dome();
    RunBudget work(200.0, run_serially, [](double) { return true; });
    TrimMembers members(layout, {}, work);
    const TrimPlan alone = TrimSearch(members, {}, 1, work, 0.0).find();
    const TrimPlan many = TrimSearch(members, {}, 24, work, 0.0).find();
    CHECK(alone.members == 1);
    CHECK(many.members == 24);
    REQUIRE(alone.reached);
    REQUIRE(many.reached);
    std::vector<int> all(24);
    std::iota(all.begin(), all.end(), 0);
    const auto failing = [&](const std::vector<Cut>& cuts) {
        const auto runs = members.run(cuts, all, TrimMembers::Until::first_flag);
        return std::count_if(runs.begin(), runs.end(),
                             [](const TrimRun& run) { return run.unprevented.has_value(); });
    };
    CHECK(failing(alone.cuts) > 0);
    CHECK(failing(many.cuts) == 0);
}

TEST_CASE("a plan is written as actions, with coral names quoted") {
    Layout layout = plate_over_dome();
    layout.season.start.days_since_1970 = 20000;
    layout.colonies[0].name = "the \"big\" \\ one";
    TrimAdvice advice;
    advice.plan.cuts = {{0, 31.0, 0.125}};
    CHECK(trim_change(layout, advice) ==
          "[[action]]\non = 2024-11-04  # month 2\ndo = \"trim\"\n"
          "colony = \"the \\\"big\\\" \\\\ one\"\nto = \"12.5 cm\"\n");
    CHECK(fragments_of(0.0181, 0.03) == 20);
}
