#include "model/contact/contact.h"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <string>

#include "model/base/random.h"
#include "model/contact/separation.h"

using namespace bedshade;

namespace {

Taxon a_taxon(const std::string& id, Form form, double rank, double polyps_m,
              double sweepers_m = 0.0, double overhang_m = 0.0) {
    Taxon taxon;
    taxon.id = id;
    taxon.form = form;
    taxon.sting_rank = rank;
    taxon.reach_polyps_m = polyps_m;
    taxon.reach_sweepers_m = sweepers_m;
    taxon.overhang_m = overhang_m;
    return taxon;
}

struct Bench {
    Layout layout;
    Reef reef;

    Bench() {
        layout.tank.length_m = 2.0;
        layout.tank.width_m = 1.0;
        layout.tank.water_depth_m = 0.6;
    }
    int add(const Taxon& taxon, const Vec3& at_m, double radius_m, double height_m) {
        Colony colony;
        colony.taxon = static_cast<int>(layout.taxa.size());
        layout.taxa.push_back(taxon);
        layout.colonies.push_back(colony);
        ColonyState state;
        state.stage = Stage::growing;
        state.position_m = at_m;
        state.radius_m.fill(radius_m);
        state.height_m = height_m;
        reef.colonies.push_back(state);
        return static_cast<int>(layout.colonies.size()) - 1;
    }
    std::vector<Contact> contacts(std::uint64_t seed = 0, std::uint32_t member = 0) const {
        Surroundings around(layout);
        around.set_colonies(reef);
        return find_contacts(around, reef, seed, member);
    }
};

const Taxon kStrong = a_taxon("strong", Form::massive, 80.0, 0.02);
const Taxon kWeak = a_taxon("weak", Form::branching, 20.0, 0.005);

/// A soft coral with allelopathy to 10 cm, and another coral with its centre at `x_m`.
Bench soft_beside(const Taxon& other, double x_m) {
    Taxon soft = a_taxon("soft", Form::stalked_soft, 11.0, 0.01);
    soft.allelopathy_m = 0.1;
    Bench bench;
    bench.add(soft, {0.5, 0.5, 0.0}, 0.05, 0.08);
    bench.add(other, {x_m, 0.5, 0.0}, 0.05, 0.06);
    return bench;
}

}  // namespace

TEST_CASE("the gap between two round colonies is the distance of their outlines", "[contact]") {
    for (const Form form : kForms) {
        CAPTURE(to_string(form));
        Bench bench;
        bench.add(a_taxon("a", form, 50.0, 0.1), {0.5, 0.5, 0.0}, 0.05, 0.04);
        bench.add(a_taxon("b", form, 10.0, 0.1), {0.63, 0.52, 0.0}, 0.06, 0.04);
        const auto found = bench.contacts();
        REQUIRE(found.size() == 1);
        CHECK(found[0].gap_m == Approx(std::hypot(0.13, 0.02) - 0.11).margin(5e-4));
        CHECK(found[0].winner == 0);
        CHECK(found[0].kind == ContactKind::polyps);
    }
}

TEST_CASE("the gap of colonies above each other is vertical", "[contact]") {
    Bench bench;
    bench.add(a_taxon("plate", Form::laminar, 50.0, 0.2), {0.5, 0.5, 0.2}, 0.15, 0.03);
    bench.add(a_taxon("dome", Form::massive, 10.0, 0.2), {0.6, 0.5, 0.0}, 0.03, 0.05);
    const auto found = bench.contacts();
    REQUIRE(found.size() == 1);
    // The plate's underside at a third of its radius is at about 21.6 cm; the dome's rim, up to
    // 0.79 of its height, at 4 cm.
    CHECK(found[0].gap_m > 0.165);
    CHECK(found[0].gap_m < 0.185);
    CHECK(found[0].kind == ContactKind::polyps);
    // Lowered onto the dome, it overgrows it.
    bench.reef.colonies[0].position_m.z() = 0.02;
    const auto onto = bench.contacts();
    REQUIRE(onto.size() == 1);
    CHECK(onto[0].gap_m == 0.0);
    CHECK(onto[0].kind == ContactKind::overgrowth);
    CHECK(onto[0].loser == 1);
    CHECK(onto[0].touched == 1.0);
}

TEST_CASE("contacts do not depend on the order of colonies", "[contact]") {
    for (std::uint32_t trial = 0; trial < 40; ++trial) {
        CAPTURE(trial);
        RandomStream draw(3, trial, Process::contact, 0, 0);
        const auto radii = [&] {
            RadialProfile r;
            for (double& value : r) value = 0.03 + 0.03 * draw.uniform();
            return r;
        };
        const RadialProfile first = radii(), second = radii();
        const double away = 0.06 + 0.08 * draw.uniform(), up = 0.05 * draw.uniform();
        Bench ab, ba;
        ab.add(kStrong, {0.5, 0.5, 0.0}, 0.0, 0.05);
        ab.add(kWeak, {0.5 + away, 0.55, up}, 0.0, 0.06);
        ba.add(kWeak, {0.5 + away, 0.55, up}, 0.0, 0.06);
        ba.add(kStrong, {0.5, 0.5, 0.0}, 0.0, 0.05);
        ab.reef.colonies[0].radius_m = ba.reef.colonies[1].radius_m = first;
        ab.reef.colonies[1].radius_m = ba.reef.colonies[0].radius_m = second;
        const auto one = ab.contacts(), other = ba.contacts();
        REQUIRE(one.size() == other.size());
        if (one.empty()) continue;
        CHECK(one[0].gap_m == other[0].gap_m);
        CHECK(one[0].kind == other[0].kind);
        CHECK(one[0].touched == other[0].touched);
        CHECK(one[0].depth_m == other[0].depth_m);
        CHECK(one[0].chance_a_wins == Approx(1.0 - other[0].chance_a_wins));
        CHECK(one[0].winner == (other[0].winner < 0 ? -1 : 1 - other[0].winner));
    }
}

TEST_CASE("the probability of winning is logistic in the ranks", "[contact]") {
    CHECK(win_probability(50.0, 50.0) == 0.5);
    CHECK(win_probability(65.0, 50.0) == Approx(1.0 / (1.0 + std::exp(-1.0))));
    CHECK(win_probability(86.0, 11.0) > 0.99);
    CHECK(win_probability(20.0, 70.0) + win_probability(70.0, 20.0) == Approx(1.0));
}

TEST_CASE("the frequency of wins over many members equals the probability", "[contact]") {
    Bench bench;
    bench.add(a_taxon("a", Form::massive, 60.0, 0.02), {0.5, 0.5, 0.0}, 0.05, 0.05);
    bench.add(a_taxon("b", Form::massive, 50.0, 0.02), {0.61, 0.5, 0.0}, 0.05, 0.05);
    CHECK(bench.contacts(1, 0).front().winner == 0);
    int wins = 0;
    constexpr int kMembers = 2000;
    for (std::uint32_t member = 1; member <= kMembers; ++member)
        wins += bench.contacts(1, member).front().winner == 0;
    // Four standard errors of a binomial.
    CHECK(wins / double{kMembers} == Approx(win_probability(60.0, 50.0)).margin(0.043));
}

TEST_CASE("a colony without reach does no harm", "[contact]") {
    Bench bench;
    bench.add(kStrong, {0.5, 0.5, 0.0}, 0.05, 0.05);
    bench.add(a_taxon("sweeping", Form::massive, 20.0, 0.005, 0.08), {0.65, 0.5, 0.0}, 0.05, 0.05);
    // 5 cm apart: only the weaker one's sweepers reach, and it has the lower rank.
    const auto found = bench.contacts();
    REQUIRE(found.size() == 1);
    CHECK(found[0].kind == ContactKind::sweepers);
    CHECK(found[0].winner == -1);
    CHECK(found[0].touched == 0.0);
    // With the higher rank it wins, and the other has no reach.
    bench.layout.taxa[1].sting_rank = 90.0;
    const auto turned = bench.contacts();
    REQUIRE(turned.size() == 1);
    CHECK(turned[0].loser == 0);
    CHECK(turned[0].depth_m == Approx(0.03).margin(1e-3));
    CHECK(turned[0].touched > 0.0);
    CHECK(turned[0].touched < 0.5);
}

TEST_CASE("equal ranks stand off", "[contact]") {
    Bench bench;
    bench.add(a_taxon("a", Form::massive, 50.0, 0.02), {0.5, 0.5, 0.0}, 0.05, 0.05);
    bench.add(a_taxon("b", Form::massive, 50.0, 0.02), {0.61, 0.5, 0.0}, 0.05, 0.05);
    CHECK(bench.contacts().front().winner == -1);
}

TEST_CASE("touch is distinguished from reach", "[contact]") {
    Bench bench;
    bench.add(a_taxon("fleshy", Form::solitary, 80.0, 0.05, 0.0, 0.02), {0.5, 0.5, 0.0}, 0.04,
              0.03);
    bench.add(a_taxon("other", Form::solitary, 40.0, 0.0, 0.0, 0.01), {0.61, 0.5, 0.0}, 0.04, 0.03);
    CHECK(bench.contacts().front().kind == ContactKind::touch);
    bench.reef.colonies[1].position_m.x() = 0.63;
    CHECK(bench.contacts().front().kind == ContactKind::polyps);
    bench.reef.colonies[1].position_m.x() = 0.66;
    CHECK(bench.contacts().empty());
}

TEST_CASE("no contact with clones, dead or absent colonies", "[contact]") {
    Bench bench;
    bench.add(kStrong, {0.5, 0.5, 0.0}, 0.05, 0.05);
    bench.add(kWeak, {0.61, 0.5, 0.0}, 0.05, 0.05);
    CHECK(bench.contacts().size() == 1);
    Bench dead = bench;
    dead.reef.colonies[1].stage = Stage::dead;
    CHECK(dead.contacts().empty());
    Bench gone = bench;
    gone.reef.colonies[1].present = false;
    CHECK(gone.contacts().empty());
    bench.layout.taxa[1] = kStrong;
    CHECK(bench.contacts().empty());
}

TEST_CASE("the touched share of the outline increases with proximity", "[contact]") {
    double before = 0.0;
    for (const double away_m : {0.118, 0.114, 0.110, 0.104}) {
        Bench bench;
        bench.add(kStrong, {0.5, 0.5, 0.0}, 0.05, 0.05);
        bench.add(kWeak, {0.5 + away_m, 0.5, 0.0}, 0.05, 0.05);
        const Contact contact = bench.contacts().front();
        CHECK(contact.loser == 1);
        CHECK(contact.touched >= before);
        CHECK(contact.depth_m == Approx(0.02 - (away_m - 0.1)).margin(5e-4));
        before = contact.touched;
    }
    CHECK(before < 0.5);
}

TEST_CASE("the cost per colony does not grow with the number of colonies", "[contact]") {
    // Pairs tested, not time: the same density in a tank ten times as large.
    const auto per_colony = [](int columns) {
        Bench bench;
        bench.layout.tank.length_m = 0.1 * columns;
        for (int i = 0; i < columns; ++i)
            for (int j = 0; j < 10; ++j)
                bench.add(a_taxon(std::to_string(10 * i + j), Form::massive, i + j, 0.02),
                          {0.1 * i + 0.05, 0.1 * j + 0.05, 0.0}, 0.045, 0.04);
        Surroundings around(bench.layout);
        around.set_colonies(bench.reef);
        std::size_t looked = 0;
        for (int c = 0; c < around.colony_count(); ++c)
            looked += around.colonies_near(grown(around.body(c)->bounds(), 0.02)).size();
        CHECK(find_contacts(around, bench.reef).size() ==
              static_cast<std::size_t>(19 * columns - 10));
        return static_cast<double>(looked) / (10.0 * columns);
    };
    CHECK(per_colony(100) < 1.1 * per_colony(10));
}

TEST_CASE("an upright coral that grows up to a plate over it is in contact with it", "[contact]") {
    Bench bench;
    bench.add(a_taxon("thicket", Form::branching, 20.0, 0.005), {0.5, 0.5, 0.0}, 0.06, 0.15);
    bench.add(a_taxon("plate", Form::laminar, 50.0, 0.005), {0.52, 0.5, 0.2}, 0.15, 0.03);
    CHECK(bench.contacts().empty());
    // Its top is within 5 mm of the underside; its rim, at 0.72 of that height, is far below.
    const double underside_m = 0.2 + 0.0115;
    bench.reef.colonies[0].height_m = underside_m - 0.003;
    const auto found = bench.contacts();
    REQUIRE(found.size() == 1);
    CHECK(found[0].gap_m < 0.006);
    CHECK(found[0].winner == 1);
    CHECK(found[0].touched < 0.7);  // where its crown is near, around its centre
    // Beside the plate its height does not matter.
    bench.reef.colonies[1].position_m.x() = 0.8;
    CHECK(bench.contacts().empty());
}

TEST_CASE("allelopathy of soft corals harms stony corals nearby, but not other soft corals",
          "[contact]") {
    Bench bench = soft_beside(kWeak, 0.66);
    const auto found = bench.contacts();
    REQUIRE(found.size() == 1);
    CHECK(found[0].kind == ContactKind::chemistry);
    CHECK(found[0].winner == 0);
    CHECK(found[0].loser == 1);
    CHECK(found[0].gap_m == Approx(0.06).margin(1e-3));
    CHECK(found[0].depth_m == Approx(0.04).margin(1e-3));
    CHECK(found[0].touched > 0.1);
    CHECK(found[0].touched < 0.5);  // its facing side
    CHECK(found[0].loss_mm_d == kAllelopathyLoss_mm_d);
    bench.reef.colonies[1].position_m.x() = 0.71;  // 11 cm away
    CHECK(bench.contacts().empty());
    bench.reef.colonies[1].position_m.x() = 0.66;
    bench.layout.taxa[1].form = Form::mat;
    CHECK(bench.contacts().empty());
    bench.layout.taxa[1].form = Form::branching;
    bench.layout.taxa[1].allelopathy_m = 0.05;
    CHECK(bench.contacts().empty());
}

TEST_CASE("allelopathy harms three of four pairs, sampled independently of the fight",
          "[contact]") {
    Bench bench = soft_beside(kWeak, 0.66);
    int harmed = 0;
    for (std::uint32_t member = 1; member <= 2000; ++member)
        harmed += bench.contacts(5, member).empty() ? 0 : 1;
    CHECK(harmed / 2000.0 == Approx(kAllelopathyChance).margin(0.03));
}

TEST_CASE("a soft coral in touch loses the fight and is still allelopathic", "[contact]") {
    Bench bench = soft_beside(kStrong, 0.61);
    const auto found = bench.contacts();
    REQUIRE(found.size() == 2);
    CHECK(found[0].kind == ContactKind::polyps);
    CHECK(found[0].loser == 0);
    CHECK(found[1].kind == ContactKind::chemistry);
    CHECK(found[1].loser == 1);
}
