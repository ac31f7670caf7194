// What members draw: nothing for member 0, something of its own for each other one, and the same
// for a quantity whatever else stands in the tank.
#include "sim/run/member_sample.h"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
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

double score_of(const MemberSample& draw, const std::string& name) {
    const auto found = std::find_if(draw.drawn.begin(), draw.drawn.end(),
                                    [&](const SampledValue& drawn) { return drawn.name == name; });
    REQUIRE(found != draw.drawn.end());
    return found->score;
}

}  // namespace

TEST_CASE("member 0 is the layout as it stands", "[ensemble]") {
    const Layout layout = tank_of({"plate"});
    const MemberSample draw = sample_member(layout, 5, 0);
    CHECK(draw.output_factor == 1.0);
    CHECK(draw.layout.taxa[0].extension_mm_yr.mean == 45.0);
    CHECK(draw.layout.taxa[0].saturation_umol_m2_s == layout.taxa[0].saturation_umol_m2_s);
    CHECK(draw.layout.taxa[0].reserve_d == layout.taxa[0].reserve_d);
    CHECK(draw.layout.taxa[0].burial_d == layout.taxa[0].burial_d);
    REQUIRE(draw.drawn.size() >= 6);
    for (const SampledValue& drawn : draw.drawn) CHECK(drawn.score == 0.0);
}

TEST_CASE("members, seeds and quantities have streams of their own", "[ensemble]") {
    const Layout layout = tank_of({"plate", "table"});
    std::set<double> scores;
    std::size_t count = 0;
    for (std::uint64_t seed = 1; seed <= 2; ++seed)
        for (std::uint32_t member = 1; member <= 20; ++member)
            for (const SampledValue& drawn : sample_member(layout, seed, member).drawn) {
                scores.insert(drawn.score);
                ++count;
            }
    CHECK(scores.size() > count - 4);  // a few may share the clamp's ends
}

TEST_CASE("another kind in the tank changes no draw of this one", "[ensemble]") {
    const MemberSample alone = sample_member(tank_of({"plate"}), 1, 7);
    const MemberSample with = sample_member(tank_of({"table", "plate"}), 1, 7);
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
        const double growth = sample_member(layout, 3, member).layout.taxa[0].extension_mm_yr.mean;
        within += growth > 20.0 && growth < 80.0 ? 1 : 0;
        below += growth < 45.0 ? 1 : 0;
    }
    // Four deviations of a binomial share.
    CHECK(within == Approx(1800).margin(54));
    CHECK(below == Approx(1000).margin(90));
}

TEST_CASE("what readings have told narrows lamps and water, and ties them", "[ensemble]") {
    Layout layout = tank_of({"plate"});
    layout.water = Water();
    layout.measured = {1.05, 1.4, 0.9};
    int close = 0, together = 0, output_near = 0;
    for (std::uint32_t member = 1; member <= 1000; ++member) {
        const MemberSample draw = sample_member(layout, 3, member);
        const double output = draw.output_factor;
        const double water = draw.layout.water.yellowing_per_m / layout.water.yellowing_per_m;
        output_near += output > 1.0 / 1.05 && output < 1.05 ? 1 : 0;
        close += water > 1.0 / 1.4 && water < 1.4 ? 1 : 0;
        together += (output > 1.0) == (water > 1.0) ? 1 : 0;
    }
    // Four deviations of a binomial share.
    CHECK(output_near == Approx(900).margin(38));
    CHECK(close == Approx(900).margin(38));
    // Two normals of correlation r share a sign with probability 1/2 + asin(r)/pi (Sheppard 1899).
    CHECK(together == Approx(1000.0 * (0.5 + std::asin(0.9) / kPi)).margin(45));
}

TEST_CASE("a measured attenuation varies only as far as readings say", "[ensemble]") {
    Layout layout = tank_of({"plate"});
    layout.water.attenuation_per_m = 0.3;
    CHECK(sample_member(layout, 3, 4).layout.water.attenuation_per_m == 0.3);
    layout.measured.water_known_to = 1.2;
    CHECK(sample_member(layout, 3, 4).layout.water.attenuation_per_m != 0.3);
    CHECK(sample_member(layout, 3, 0).layout.water.attenuation_per_m == 0.3);
}

TEST_CASE("a colony measured as it grew does not vary with its kind", "[ensemble]") {
    Layout layout = tank_of({"plate"});
    layout.colonies = {colony_at("A1", 0, Vec3(1.0, 1.0, 0.2), 0.1, 0.02),
                       colony_at("A2", 0, Vec3(0.5, 1.0, 0.2), 0.1, 0.02)};
    layout.colonies[0].growth_factor = 1.5;
    layout.colonies[0].growth_known_to = 1.0;
    const MemberSample draw = sample_member(layout, 3, 4);
    const double rate = draw.layout.taxa[0].extension_mm_yr.mean;
    CHECK(rate != 45.0);
    CHECK(draw.layout.colonies[0].growth_factor * rate == Approx(1.5 * 45.0));
    CHECK(draw.layout.colonies[1].growth_factor == 1.0);
}

TEST_CASE("water that is changed on the way is as unsure as the water it replaces", "[ensemble]") {
    Layout layout = tank_of({"plate"});
    layout.water = Water();
    WaterChange change;
    change.yellowing_per_m = 0.2;
    change.turbidity_kg_m3 = 0.001;
    Action cleared;
    cleared.to = change;
    layout.actions = {cleared};
    const MemberSample draw = sample_member(layout, 3, 4);
    const double factor = draw.layout.water.yellowing_per_m / layout.water.yellowing_per_m;
    REQUIRE(factor != 1.0);
    const auto& drawn = std::get<WaterChange>(draw.layout.actions[0].to);
    CHECK(*drawn.yellowing_per_m == Approx(0.2 * factor));
    CHECK(*drawn.turbidity_kg_m3 == Approx(0.001 * factor));
    CHECK_FALSE(drawn.attenuation_per_m);
}
