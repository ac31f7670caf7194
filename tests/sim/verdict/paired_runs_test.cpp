// Members of two runs in pairs: flags that come, go and move, differences with their spread.
#include "sim/verdict/paired_runs.h"

#include <catch2/catch.hpp>

#include "sim/base/quantile.h"
#include "sim/report/comparison_report.h"

#include "tests/layouts.h"

using namespace bedshade;
using namespace bedshade::test;

namespace {

Layout with_colonies(const std::vector<const char*>& names) {
    Layout layout = black_tank();
    layout.taxa = {plain_coral(Form::laminar, 100.0)};
    for (const char* name : names)
        layout.colonies.push_back(colony_at(name, 0, Vec3(1.0, 1.0, 0.0), 0.1, 0.02));
    return layout;
}

Flag flag(FlagKind kind, int colony, double day_d) {
    Flag f;
    f.kind = kind;
    f.colony = colony;
    f.day_d = day_d;
    return f;
}

ColonyMeans means_with(double dli) {
    ColonyMeans s;
    s.days = 100.0;
    s.dli_mol_m2_d = dli;
    return s;
}

}  // namespace

TEST_CASE("quantiles lie on straight lines between the values") {
    CHECK(quantile<double>({3.0}, 0.9) == 3.0);
    CHECK(quantile<double>({1.0, 2.0, 4.0}, 0.0) == 1.0);
    CHECK(quantile<double>({1.0, 2.0, 4.0}, 0.75) == Approx(3.0));
    CHECK(quantile<double>({1.0, 2.0, 4.0}, 1.0) == 4.0);
}

TEST_CASE("identical pairs have exactly zero difference") {
    const Layout layout = with_colonies({"a", "b"});
    const MemberRun one{{flag(FlagKind::buried, 0, 40.0)}, {means_with(2.0), means_with(3.1)}};
    const MemberRun two{{}, {means_with(2.2), means_with(3.3)}};
    const PairedRuns difference = paired(layout, layout, {{one, one}, {two, two}});
    CHECK(difference.same());
    CHECK(difference.runs == 2);
    CHECK(difference.colonies[1].difference[0] == PairedSpread{0.0, 0.0, 0.0});
    CHECK(paired_text(difference).find("No difference in any of 2 runs") == 0);
}

TEST_CASE("new, gone and moved flags are counted by colony name") {
    const Layout before = with_colonies({"a", "b"}), after = with_colonies({"b"});
    const double month = 30.4375;
    std::vector<MemberPair> pairs;
    // "b" is number 1 without the change and number 0 with it; its flag moves by -1, 0 and 2 months
    // and is gone in a fourth run; "stung" is new in two.
    for (const double later : {-1.0, 0.0, 2.0})
        pairs.push_back(
            {{{flag(FlagKind::buried, 1, 5 * month)}, {means_with(1.0), means_with(2.0)}},
             {{flag(FlagKind::buried, 0, (5 + later) * month)}, {means_with(2.0 + later)}}});
    pairs.push_back({{{flag(FlagKind::buried, 1, month)}, {means_with(1.0), means_with(2.0)}},
                     {{flag(FlagKind::stung, 0, month)}, {means_with(2.0)}}});
    pairs[0].after.flags.push_back(flag(FlagKind::stung, 0, month));
    const PairedRuns difference = paired(before, after, pairs);
    REQUIRE(difference.flags.size() == 2);
    CHECK(difference.flags[0].kind == FlagKind::buried);
    CHECK(difference.flags[0].lost == 1);
    CHECK(difference.flags[0].gained == 0);
    REQUIRE(difference.flags[0].shift_months.size() == 3);
    CHECK(difference.flags[0].shift_months[0] == Approx(-1.0));
    CHECK(difference.flags[0].shift_months[2] == Approx(2.0));
    CHECK(difference.flags[1].gained == 2);
    REQUIRE(difference.colonies.size() == 1);
    const PairedSpread light = difference.colonies[0].difference[0];
    CHECK(light.mean == Approx(0.25));
    CHECK(light.low == Approx(-0.85));
    CHECK(light.high == Approx(1.7));
    const std::string text = paired_text(difference);
    CHECK(text.find("'b' buried: gone in 1 of 4 runs") != std::string::npos);
    CHECK(text.find(
              "shift in the 3 runs with both, in months: 0, between 0.8 sooner and 1.6 later") !=
          std::string::npos);
    CHECK(text.find("'b' stung: new in 2 of 4 runs") != std::string::npos);
    CHECK(text.find("+0.25 (-0.85 to +1.70)") != std::string::npos);
}
