// Properties of the light field: attribution is complete and fair, opaque bodies only reduce light,
// and porous ones attenuate by their chord.
#include "model/light/light_field.h"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <numeric>

#include "model/base/random.h"
#include "model/growth/forms.h"
#include "model/light/shapley.h"

#include "tests/layouts.h"

using namespace bedshade;
using namespace bedshade::test;

namespace {

const BedGrid kBed{8, 8, 0.25, 0.25};

ColonyShape disc_shape(const Vec3& base_m, double radius_m, Form form = Form::laminar,
                       double height_m = 0.01) {
    ColonyShape shape;
    shape.form = form;
    shape.base_m = base_m;
    shape.radius_m.fill(radius_m);
    shape.height_m = height_m;
    return shape;
}

ColonyInLight opaque(const ColonyShape& shape) {
    return {mesh_of(shape), bounds_of(shape), extinction_per_m(0.0)};
}

ColonyInLight porous(const ColonyShape& shape, double area_m2_per_m3) {
    return {mesh_of(shape), bounds_of(shape), extinction_per_m(area_m2_per_m3)};
}

Layout lamp_over_black_tank(LampShape shape, double size_m, int colonies) {
    Layout layout = black_tank();
    layout.lamps = {lamp_at(Vec3(1.0, 1.0, 0.7), shape, size_m, 100.0)};
    layout.colonies.resize(static_cast<std::size_t>(colonies));
    return layout;
}

double light_at(const LightField& field, const Layout& layout, const Vec3& point) {
    const LightReceptor sensor{point, Vec3::UnitZ()};
    return field.points({&sensor, 1}, lamps_on(layout, 0.0, 1.0)).front();
}

std::vector<LightReceptor> one_receptor(const Vec3& point) { return {{point, Vec3::UnitZ()}}; }

}  // namespace

TEST_CASE("an opaque body never adds light") {
    const Layout layout = lamp_over_black_tank(LampShape::rectangle, 0.3, 1);
    LightField field(layout, kBed);
    field.update(run_serially);
    const auto today = lamps_on(layout, 0.0, 1.0);
    const auto open = field.bed(today, run_serially);
    RandomStream stream(3, 0, Process::traits, 0, 0);
    double darkened = 0.0;
    for (int trial = 0; trial < 40; ++trial) {
        const Vec3 base(0.3 + 1.4 * stream.uniform(), 0.3 + 1.4 * stream.uniform(),
                        0.4 * stream.uniform());
        field.place(0, opaque(disc_shape(base, 0.05 + 0.2 * stream.uniform())));
        field.update(run_serially);
        const auto shaded = field.bed(today, run_serially);
        for (std::size_t cell = 0; cell < open.size(); ++cell) {
            REQUIRE(shaded[cell] <= open[cell]);
            darkened += open[cell] - shaded[cell];
        }
    }
    CHECK(darkened > 0.0);
    field.place(0, std::nullopt);
    field.update(run_serially);
    CHECK(field.bed(today, run_serially) == open);
}

TEST_CASE("two stacked plates get equal attribution in either order") {
    const Layout layout = lamp_over_black_tank(LampShape::point, 0.0, 3);
    const Vec3 low(1.0, 1.0, 0.10), high(1.0, 1.0, 0.30);
    const bool swapped = GENERATE(false, true);
    LightField field(layout, kBed);
    field.place(1, opaque(disc_shape(swapped ? high : low, 0.1)));
    field.place(2, opaque(disc_shape(swapped ? low : high, 0.1)));
    field.set_receptors(0, one_receptor(Vec3(1.0, 1.0, 0.01)));
    field.update(run_serially);
    const auto light = field.colonies(lamps_on(layout, 0.0, 1.0), run_serially).front();
    CHECK(light.patch_umol_m2_s.front() == 0.0);
    CHECK(light.patch_baseline_umol_m2_s.front() > 0.0);
    REQUIRE(light.attenuation_by_colony.size() == 2);
    for (const ShadeShare& s : light.attenuation_by_colony) CHECK(s.share == 0.5);
    REQUIRE(light.attenuation_since_baseline.size() == 2);
    for (const ShadeShare& s : light.attenuation_since_baseline) CHECK(s.share == 0.5);
}

TEST_CASE("attenuation by neighbours and remaining light add up to the unshaded light") {
    Layout layout = lamp_over_black_tank(LampShape::rectangle, 0.3, 4);
    layout.lamps.push_back(lamp_at(Vec3(0.6, 0.8, 0.8), LampShape::disc, 0.2, 60.0));
    const std::vector<ColonyInLight> bodies = {
        opaque(disc_shape(Vec3(1.05, 1.0, 0.1), 0.12)),
        porous(disc_shape(Vec3(0.9, 1.0, 0.2), 0.15, Form::branching, 0.1), 60.0),
        opaque(disc_shape(Vec3(0.95, 0.95, 0.35), 0.05))};
    LightField field(layout, kBed);
    for (int i = 0; i < 3; ++i) {
        field.place_baseline(i + 1, bodies[static_cast<std::size_t>(i)]);
        field.place(i + 1, bodies[static_cast<std::size_t>(i)]);
    }
    field.set_receptors(0, one_receptor(Vec3(1.0, 1.0, 0.01)));
    field.update(run_serially);
    const auto today = lamps_on(layout, 0.0, 1.0);
    const auto light = field.colonies(today, run_serially).front();
    const double now = light.patch_umol_m2_s[0] + light.patch_umol_m2_s[1];
    for (int colony = 1; colony < 4; ++colony) field.place(colony, std::nullopt);
    field.update(run_serially);
    const auto alone_light = field.colonies(today, run_serially).front();
    const double alone = alone_light.patch_umol_m2_s[0] + alone_light.patch_umol_m2_s[1];
    const double attenuation_by_colony =
        std::accumulate(light.attenuation_by_colony.begin(), light.attenuation_by_colony.end(), 0.0,
                        [](double sum, const ShadeShare& s) { return sum + s.share; });
    CHECK(light.attenuation_by_colony.size() == 3);
    CHECK(now + attenuation_by_colony * alone == Approx(alone).epsilon(1e-12));
    // Nothing has grown since day 0.
    CHECK(light.patch_baseline_umol_m2_s[0] == Approx(light.patch_umol_m2_s[0]).epsilon(1e-12));
    REQUIRE(light.attenuation_since_baseline.size() == 3);
    for (const ShadeShare& s : light.attenuation_since_baseline) CHECK(std::abs(s.share) < 1e-12);
}

TEST_CASE("a porous canopy transmits exp(-k chord)") {
    // Beer-Lambert along a known chord: through a table of uniform thickness.
    const Layout layout = lamp_over_black_tank(LampShape::point, 0.0, 1);
    LightField field(layout, kBed);
    const double area = 40.0;  // m2 per m3
    const ColonyShape table = disc_shape(Vec3(1.0, 1.0, 0.1), 0.2, Form::tabular, 0.10);
    double top = 0.0, under = 1.0;  // faces of the plate, away from its stalk
    for (const auto& v : mesh_of(table).vertices_m)
        if (std::hypot(v.x() - 1.0F, v.y() - 1.0F) > 0.19F) {
            top = std::max(top, static_cast<double>(v.z()));
            under = std::min(under, static_cast<double>(v.z()));
        }
    const Vec3 point(1.0, 1.19, 0.01);  // its path to the lamp crosses the outer plate
    field.update(run_serially);
    const double open = light_at(field, layout, point);
    field.place(0, porous(table, area));
    field.update(run_serially);
    const double through = light_at(field, layout, point) / open;
    const double slant = std::hypot(0.19, 0.69) / 0.69;
    CHECK(through == Approx(std::exp(-0.5 * area * (top - under) * slant)).epsilon(1e-5));
}

TEST_CASE("rock blocks light without attribution to colonies") {
    Layout layout = lamp_over_black_tank(LampShape::point, 0.0, 2);
    Rock rock;
    rock.shape = RockSlab{Vec3(1.0, 1.0, 0.2), Vec3(0.2, 0.2, 0.02), 0.3, 1.0};
    layout.rocks = {rock};
    LightField field(layout, kBed);
    field.place(1, opaque(disc_shape(Vec3(1.0, 1.0, 0.3), 0.1)));
    field.set_receptors(0, one_receptor(Vec3(1.0, 1.0, 0.01)));
    field.update(run_serially);
    const auto light = field.colonies(lamps_on(layout, 0.0, 1.0), run_serially).front();
    CHECK(light.patch_umol_m2_s.front() == 0.0);
    CHECK(light.attenuation_by_colony.empty());
}

TEST_CASE("tracing only changed paths gives the same bits as tracing everything") {
    Layout layout = lamp_over_black_tank(LampShape::rectangle, 0.3, 5);
    layout.tank.length_m = layout.tank.width_m = 1.2;
    layout.water.refractive_index = 1.34;
    for (Wall& wall : layout.tank.walls) wall.kind = WallKind::glass;
    LightField quick(layout, kBed), full(layout, kBed);
    RandomStream stream(11, 0, Process::traits, 0, 0);
    std::vector<ColonyShape> shapes;
    for (int i = 0; i < 4; ++i)
        shapes.push_back(disc_shape(Vec3(0.2 + 0.8 * stream.uniform(), 0.2 + 0.8 * stream.uniform(),
                                         0.3 * stream.uniform()),
                                    0.05, i % 2 == 0 ? Form::laminar : Form::branching, 0.05));
    const auto today = lamps_on(layout, 0.0, 1.0);
    for (LightField* field : {&quick, &full})
        field->set_receptors(4, one_receptor(Vec3(0.6, 0.6, 0.01)));
    for (int day = 0; day < 12; ++day) {
        for (int i = 0; i < 4; ++i) {
            if (day > 0 && (day + i) % 3 == 0) continue;  // some days some do not change
            auto& shape = shapes[static_cast<std::size_t>(i)];
            for (double& r : shape.radius_m) r += 0.004 * stream.uniform();
            const bool gone = day == 7 && i == 1;
            for (LightField* field : {&quick, &full})
                field->place(
                    i, gone ? std::nullopt
                            : std::optional(i % 2 == 0 ? opaque(shape) : porous(shape, 30.0)));
        }
        quick.update(run_serially);
        full.update(run_serially, true);
        REQUIRE(quick.bed(today, run_serially) == full.bed(today, run_serially));
        const auto a = quick.colonies(today, run_serially)[4],
                   b = full.colonies(today, run_serially)[4];
        REQUIRE(a.patch_umol_m2_s == b.patch_umol_m2_s);
        REQUIRE(a.patch_baseline_umol_m2_s == b.patch_baseline_umol_m2_s);
    }
}

TEST_CASE("attribution is the Shapley value") {
    // By hand: an opaque colony and one of transmittance 0.5. Orders: opaque first takes 1 and the
    // other 0; porous first takes 0.5 and the opaque 0.5. Means: 0.75 and 0.25.
    const double transmittance[] = {0.0, 0.5};
    double share[2];
    shapley_shares(transmittance, share, 2);
    CHECK(share[0] == Approx(0.75).epsilon(1e-12));
    CHECK(share[1] == Approx(0.25).epsilon(1e-12));
    std::vector<double> many(40), parts(40);
    for (std::size_t i = 0; i < many.size(); ++i) many[i] = 0.3 + 0.015 * static_cast<double>(i);
    shapley_shares(many.data(), parts.data(), many.size());
    const double through = std::accumulate(many.begin(), many.end(), 1.0, std::multiplies<>());
    CHECK(std::accumulate(parts.begin(), parts.end(), 0.0) == Approx(1.0 - through).epsilon(1e-12));
    CHECK(std::is_sorted(parts.rbegin(), parts.rend()));
}
