#include "model/growth/extension.h"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>

#include "model/growth/recession.h"

#include "tests/meshes.h"

using namespace bedshade;
using namespace bedshade::test;

namespace {

Taxon a_taxon(Form form, double extension_mm_yr) {
    Taxon taxon;
    taxon.id = "test";
    taxon.form = form;
    taxon.extension_mm_yr = {extension_mm_yr, extension_mm_yr, extension_mm_yr};
    taxon.vertical_per_radial = 0.5;
    taxon.max_diameter_m = 1.0;
    return taxon;
}

/// A tank, colonies and their state, growing step by step in full light.
struct Bench {
    Layout layout;
    Reef reef;

    explicit Bench(const Taxon& taxon) {
        layout.tank.length_m = 1.2;
        layout.tank.width_m = 0.6;
        layout.tank.water_depth_m = 0.55;
        layout.taxa = {taxon};
    }

    int add(const Vec3& at_m, double radius_m, double height_m, const std::string& on = "") {
        Colony colony;
        colony.position_m = at_m;
        colony.on = on;
        layout.colonies.push_back(colony);
        ColonyState state;
        state.position_m = at_m;
        state.radius_m.fill(radius_m);
        state.height_m = height_m;
        reef.colonies.push_back(state);
        return static_cast<int>(layout.colonies.size()) - 1;
    }

    Extension step(double dt_d, double share = 1.0) {
        Surroundings around(layout);
        around.set_colonies(reef);
        RadialProfile shares;
        shares.fill(share);
        Extension last;
        std::vector<Extension> grown;
        for (int c = 0; c < static_cast<int>(reef.colonies.size()); ++c)
            grown.push_back(
                extend(around, c, reef.colonies[static_cast<std::size_t>(c)], shares, dt_d));
        for (std::size_t c = 0; c < grown.size(); ++c) {
            reef.colonies[c].radius_m = grown[c].radius_m;
            reef.colonies[c].height_m = grown[c].height_m;
        }
        return grown.front();
    }

    Extension season(int steps, double dt_d) {
        Extension last;
        for (int i = 0; i < steps; ++i) last = step(dt_d);
        return last;
    }

    const ColonyState& state(int c = 0) const { return reef.colonies[static_cast<std::size_t>(c)]; }
    Box bounds(int c = 0) const {
        return bounds_of(
            shape_of(layout.taxa[0], layout.colonies[static_cast<std::size_t>(c)], state(c)));
    }
};

bool met(const Extension& grown, Obstacle what) {
    return std::any_of(grown.met.begin(), grown.met.end(),
                       [&](const Hindrance& h) { return h.what == what; });
}

}  // namespace

TEST_CASE("free growth adds the same radius to a small and a large colony", "[extension]") {
    for (const double radius_m : {0.01, 0.20}) {
        Bench bench(a_taxon(Form::laminar, 45.0));
        bench.layout.taxa[0].max_diameter_m = 2.0;
        bench.add({0.6, 0.3, 0.1}, radius_m, 0.03);
        const Extension grown = bench.step(7.0);
        for (const double r : grown.radius_m)
            CHECK(r - radius_m == Approx(0.045 * 7.0 / 365.25).epsilon(1e-9));
        CHECK(grown.height_m - 0.03 == Approx(0.5 * 0.045 * 7.0 / 365.25).epsilon(1e-9));
        CHECK_FALSE(met(grown, Obstacle::glass));
    }
}

TEST_CASE("growth follows each sector's share and the colony's growth factor", "[extension]") {
    Bench bench(a_taxon(Form::branching, 60.0));
    bench.add({0.6, 0.3, 0.0}, 0.05, 0.05, "sand");
    bench.layout.colonies[0].growth_factor = 0.5;
    Surroundings around(bench.layout);
    around.set_colonies(bench.reef);
    RadialProfile share{};
    share[4] = 1.0;
    share[5] = 0.25;
    const Extension grown = extend(around, 0, bench.state(), share, 30.4375);
    CHECK(grown.radius_m[4] - 0.05 == Approx(0.0025));
    CHECK(grown.radius_m[5] - 0.05 == Approx(0.000625));
    CHECK(grown.radius_m[6] == 0.05);
    CHECK(grown.height_m - 0.05 == Approx(0.5 * 0.003125 / 24.0));
}

TEST_CASE("growth never shrinks an outline, and one long step equals many short ones",
          "[extension]") {
    Bench many(a_taxon(Form::laminar, 200.0)), one(many.layout.taxa[0]);
    many.add({0.2, 0.3, 0.1}, 0.15, 0.05);
    one.add({0.2, 0.3, 0.1}, 0.15, 0.05);
    for (int i = 0; i < 31; ++i) {
        const RadialProfile before = many.state().radius_m;
        many.step(1.0);
        for (std::size_t s = 0; s < kSectors; ++s) CHECK(many.state().radius_m[s] >= before[s]);
    }
    one.step(31.0);
    for (std::size_t s = 0; s < kSectors; ++s)
        CHECK(one.state().radius_m[s] == Approx(many.state().radius_m[s]).margin(5e-4));
}

TEST_CASE("a plate stops at glass and grows along it", "[extension]") {
    Bench bench(a_taxon(Form::laminar, 100.0));
    bench.add({0.08, 0.3, 0.1}, 0.05, 0.03);
    const Extension last = bench.season(60, 14.0);
    CHECK(last.met[12].what == Obstacle::glass);
    CHECK(last.met[0].what == Obstacle::none);
    CHECK(bench.state().radius_m[12] == Approx(0.075).margin(2e-4));
    // Two sectors away, at 30 degrees, the rim is on the same line along the glass.
    CHECK(bench.state().radius_m[10] == Approx(0.075 / std::cos(kPi / 6)).margin(3e-3));
    // Between sectors the outline bulges by less than the gap and a millimetre.
    CHECK(bench.bounds().min.x() > -0.001);
}

TEST_CASE("growth stops a centimetre under the surface", "[extension]") {
    for (const Form form : {Form::branching, Form::laminar, Form::tabular}) {
        Bench bench(a_taxon(form, 100.0));
        bench.layout.taxa[0].vertical_per_radial = 2.0;
        bench.add({0.6, 0.3, 0.40}, 0.05, 0.05);
        const Extension last = bench.season(40, 14.0);
        CAPTURE(to_string(form));
        CHECK(last.met_above.what == Obstacle::surface);
        CHECK(bench.bounds().max.z() == Approx(0.54).margin(2e-4));
    }
}

TEST_CASE("a plate stops at rock beside it and below rock above it", "[extension]") {
    Bench bench(a_taxon(Form::laminar, 100.0));
    bench.layout.taxa[0].vertical_per_radial = 1.0;
    bench.add({0.6, 0.3, 0.1}, 0.05, 0.03);
    bench.layout.rocks.push_back({"post", RockBox{{0.70, 0.2, 0.0}, {0.75, 0.4, 0.4}}});
    bench.layout.rocks.push_back({"ceiling", RockBox{{0.4, 0.1, 0.18}, {0.6, 0.5, 0.25}}});
    const Extension last = bench.season(40, 14.0);
    CHECK(last.met[0].what == Obstacle::rock);
    CHECK(bench.state().radius_m[0] == Approx(0.10).margin(5e-4));
    CHECK(last.met_above.what == Obstacle::rock);
    CHECK(bench.bounds().max.z() == Approx(0.18).margin(2e-3));
}

TEST_CASE("rock as a closed mesh stops growth like a box", "[extension]") {
    const RockMesh cube = box_as_mesh({0.70, 0.2, 0.0}, {0.75, 0.4, 0.4});
    Bench bench(a_taxon(Form::laminar, 100.0));
    bench.add({0.6, 0.3, 0.1}, 0.05, 0.03);
    bench.layout.rocks.push_back({"post", cube});
    const Extension last = bench.season(40, 14.0);
    CHECK(last.met[0].what == Obstacle::rock);
    CHECK(bench.state().radius_m[0] == Approx(0.10).margin(5e-4));
}

TEST_CASE("a step of one month does not skip a thin rock", "[extension]") {
    Bench bench(a_taxon(Form::laminar, 200.0));
    bench.add({0.6, 0.3, 0.1}, 0.05, 0.03);
    bench.layout.rocks.push_back({"shard", RockBox{{0.656, 0.0, 0.0}, {0.662, 0.6, 0.4}}});
    const Extension grown = bench.step(31.0);
    CHECK(grown.met[0].what == Obstacle::rock);
    CHECK(grown.radius_m[0] == Approx(0.056).margin(2e-4));
}

TEST_CASE("two colonies stop at each other without overlap", "[extension]") {
    for (const Form form : kForms) {
        CAPTURE(to_string(form));
        Bench bench(a_taxon(form, 60.0));
        bench.layout.taxa[0].spreads_on = SpreadsOn::both;
        bench.layout.taxa[0].vertical_per_radial = 0.0;
        const int a = bench.add({0.55, 0.3, 0.0}, 0.03, 0.03, "sand");
        const int b = bench.add({0.65, 0.3, 0.0}, 0.03, 0.03, "sand");
        bench.season(52, 7.0);
        const Extension grown = bench.step(7.0);
        CHECK(grown.met[0].what == Obstacle::colony);
        CHECK(grown.met[0].colony == b);
        CHECK(grown.met[12].what == Obstacle::none);
        const double across = bench.state(a).radius_m[0] + bench.state(b).radius_m[12];
        CHECK(across <= 0.1 + 0.06 * 7.0 / 365.25);
        CHECK(across >= 0.1 - 1.1 * kColonyGap_m - 1e-3);
    }
}

TEST_CASE("cuttings of one individual grow together, those of two keep their gap", "[extension]") {
    for (const Form form : {Form::massive, Form::encrusting, Form::phaceloid, Form::laminar}) {
        for (const bool one : {true, false}) {
            CAPTURE(to_string(form), one);
            Bench bench(a_taxon(form, 60.0));
            bench.layout.taxa[0].spreads_on = SpreadsOn::both;
            bench.layout.taxa[0].vertical_per_radial = 0.0;
            const int a = bench.add({0.55, 0.3, 0.0}, 0.03, 0.03, "sand");
            const int b = bench.add({0.65, 0.3, 0.0}, 0.03, 0.03, "sand");
            bench.layout.colonies[0].clone = "gold";
            bench.layout.colonies[1].clone = one ? "gold" : "green";
            bench.season(52, 7.0);
            const double across = bench.state(a).radius_m[0] + bench.state(b).radius_m[12];
            CHECK(across <= 0.1 + 0.06 * 7.0 / 365.25);
            CHECK((across >= 0.1 - 2e-4) == one);
            CHECK(bench.step(7.0).met[0].colony == b);
            CHECK(bench.state(a).radius_m[12] > 0.08);
        }
    }
}

TEST_CASE("a plate grows over a low neighbour", "[extension]") {
    Bench bench(a_taxon(Form::laminar, 60.0));
    bench.layout.taxa.push_back(a_taxon(Form::massive, 0.0));
    bench.add({0.5, 0.3, 0.15}, 0.05, 0.03);
    const int low = bench.add({0.6, 0.3, 0.0}, 0.03, 0.05, "sand");
    bench.layout.colonies[static_cast<std::size_t>(low)].taxon = 1;
    const Extension last = bench.season(52, 14.0);
    CHECK_FALSE(met(last, Obstacle::colony));
    CHECK(bench.state().radius_m[0] == Approx(0.05 + 0.06 * 52 * 14 / 365.25));
}

TEST_CASE("growth ends at the taxon's size limit", "[extension]") {
    Bench bench(a_taxon(Form::massive, 60.0));
    bench.layout.taxa[0].max_diameter_m = 0.12;
    bench.add({0.6, 0.3, 0.0}, 0.055, 0.05, "sand");
    const Extension last = bench.season(60, 7.0);
    CHECK(last.met[7].what == Obstacle::size_limit);
    CHECK(bench.state().radius_m[7] == Approx(0.06).margin(1e-4));
    CHECK(bench.state().height_m < 0.06);
}

TEST_CASE("a sheet stops at sand it cannot cross and at the edge of its rock", "[extension]") {
    Taxon mat = a_taxon(Form::mat, 60.0);
    mat.spread_grain_low_m = 0.003;
    mat.spread_grain_high_m = 0.02;
    Bench bench(mat);
    bench.layout.substrate.grain_m = 0.001;
    bench.layout.substrate.patches.push_back({"rubble", {0.6, 0.3}, 0.06, 0.006});
    bench.add({0.6, 0.3, 0.0}, 0.03, 0.01, "sand");
    const Extension last = bench.season(52, 14.0);
    CHECK(last.met[3].what == Obstacle::sand);
    CHECK(bench.state().radius_m[3] == Approx(0.06).margin(2e-4));

    Bench ledge(a_taxon(Form::encrusting, 60.0));
    ledge.layout.rocks.push_back({"ledge", RockBox{{0.4, 0.2, 0.0}, {0.7, 0.4, 0.2}}});
    ledge.add({0.6, 0.3, 0.2}, 0.03, 0.005, "ledge");
    const Extension at_edge = ledge.season(52, 14.0);
    CHECK(at_edge.met[0].what == Obstacle::edge);
    CHECK(ledge.state().radius_m[0] == Approx(0.1).margin(2e-4));
    CHECK(at_edge.met[12].what == Obstacle::none);
    CHECK(ledge.state().radius_m[12] > 0.1);
}

TEST_CASE("a plate grows freely beyond the edge of its rock", "[extension]") {
    Bench bench(a_taxon(Form::laminar, 60.0));
    bench.layout.rocks.push_back({"ledge", RockBox{{0.4, 0.2, 0.0}, {0.7, 0.4, 0.2}}});
    bench.add({0.65, 0.3, 0.2}, 0.03, 0.03, "ledge");
    const Extension last = bench.season(52, 14.0);
    CHECK(last.met[0].what == Obstacle::none);
    CHECK(bench.state().radius_m[0] == Approx(0.03 + 0.06 * 52 * 14 / 365.25));
}

TEST_CASE("recession and healing do not depend on the step", "[recession]") {
    CHECK(receded(1.0, 0.05, 1.0, 10.0) == Approx(0.64));  // the edge from 5 cm to 4 cm
    CHECK(receded(receded(1.0, 0.05, 1.0, 3.0), 0.05, 1.0, 7.0) == Approx(0.64));
    CHECK(receded(0.5, 0.05, 1.0, 1000.0) == 0.0);
    CHECK(healed(0.64, 0.05, 36.525, 100.0) == Approx(1.0));
    CHECK(healed(0.64, 0.05, 36.525, 50.0) == Approx(0.81));
    CHECK(healed(0.0, 0.05, 36.525, 50.0) == 0.0);
    CHECK(healed(1.0, 0.05, 36.525, 50.0) == 1.0);
}

TEST_CASE("a sting kills only the touched share, no deeper than its reach", "[recession]") {
    // A quarter of the outline at 1 mm/d for a day on 5 cm: the ring lost is a quarter of 1 mm.
    CHECK(stung(1.0, 0.05, 1.0, 1.0, 0.25, 0.02) == Approx(std::pow(1.0 - 0.25 * 0.02, 2)));
    const double spared = 1.0 - 0.25 * (1.0 - 0.6 * 0.6);
    CHECK(stung(1.0, 0.05, 1.0, 1000.0, 0.25, 0.02) == Approx(spared));
    CHECK(stung(0.5, 0.05, 1.0, 1000.0, 0.25, 0.02) == 0.5);  // what is left is out of reach
    CHECK(stung(1.0, 0.05, 1.0, 1000.0, 1.0, 0.2) == 0.0);
}
