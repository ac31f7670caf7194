// What members draw: nothing for member 0, something of its own for each other one, and the same
// for a quantity whatever else stands in the tank.
#include "sim/season/member_draw.h"

#include <algorithm>
#include <catch2/catch.hpp>
#include <set>

#include "tests/layouts.h"

using namespace bedshade;
using namespace bedshade::test;

namespace {

Layout tank_of(const std::vector<std::string>& kinds) {
    Layout layout = black_tank();
    for (const std::string& id : kinds) {
        Taxon taxon = plain_coral(Form::laminar, 150.0);
        taxon.id = id;
        taxon.extension_mm_yr = {45.0, 20.0, 80.0};
        layout.taxa.push_back(taxon);
    }
    return layout;
}

double score_of(const MemberDraw& draw, const std::string& name) {
    const auto found = std::find_if(draw.drawn.begin(), draw.drawn.end(),
                                    [&](const Drawn& drawn) { return drawn.name == name; });
    REQUIRE(found != draw.drawn.end());
    return found->score;
}

}  // namespace

TEST_CASE("member 0 is the layout as it stands", "[ensemble]") {
    const Layout layout = tank_of({"plate"});
    const MemberDraw draw = draw_member(layout, 5, 0);
    CHECK(draw.output_factor == 1.0);
    CHECK(draw.layout.taxa[0].extension_mm_yr.mean == 45.0);
    CHECK(draw.layout.taxa[0].saturation_umol_m2_s == layout.taxa[0].saturation_umol_m2_s);
    CHECK(draw.layout.taxa[0].reserve_d == layout.taxa[0].reserve_d);
    CHECK(draw.layout.taxa[0].burial_d == layout.taxa[0].burial_d);
    REQUIRE(draw.drawn.size() >= 6);
    for (const Drawn& drawn : draw.drawn) CHECK(drawn.score == 0.0);
}

TEST_CASE("members, seeds and quantities have streams of their own", "[ensemble]") {
    const Layout layout = tank_of({"plate", "table"});
    std::set<double> scores;
    std::size_t count = 0;
    for (std::uint64_t seed = 1; seed <= 2; ++seed)
        for (std::uint32_t member = 1; member <= 20; ++member)
            for (const Drawn& drawn : draw_member(layout, seed, member).drawn) {
                scores.insert(drawn.score);
                ++count;
            }
    CHECK(scores.size() > count - 4);  // a few may share the clamp's ends
}

TEST_CASE("another kind in the tank changes no draw of this one", "[ensemble]") {
    const MemberDraw alone = draw_member(tank_of({"plate"}), 1, 7);
    const MemberDraw with = draw_member(tank_of({"table", "plate"}), 1, 7);
    CHECK(score_of(alone, "growth of plate") == score_of(with, "growth of plate"));
    CHECK(alone.layout.taxa[0].extension_mm_yr.mean == with.layout.taxa[1].extension_mm_yr.mean);
}

TEST_CASE("a spread meets its median and its ends", "[ensemble]") {
    const Spread growth{45.0, 20.0, 80.0};
    CHECK(spread_at(growth, 0.0) == 45.0);
    CHECK(spread_at(growth, -1.645) == Approx(20.0));
    CHECK(spread_at(growth, 1.645) == Approx(80.0));
    CHECK(spread_at({0.0, 0.0, 0.0}, 1.0) == 0.0);
}

TEST_CASE("nine in ten members grow within the evidence, half of them below its mean",
          "[ensemble]") {
    const Layout layout = tank_of({"plate"});
    int within = 0, below = 0;
    for (std::uint32_t member = 1; member <= 2000; ++member) {
        const double growth = draw_member(layout, 3, member).layout.taxa[0].extension_mm_yr.mean;
        within += growth > 20.0 && growth < 80.0 ? 1 : 0;
        below += growth < 45.0 ? 1 : 0;
    }
    // Four deviations of a binomial share.
    CHECK(within == Approx(1800).margin(54));
    CHECK(below == Approx(1000).margin(90));
}
