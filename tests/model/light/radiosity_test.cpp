// Radiosity (diffuse interreflection) against closed forms.
#include "model/light/radiosity.h"

#include <catch2/catch.hpp>

#include "model/light/fresnel.h"
#include "model/reef/reflectance.h"

#include "tests/layouts.h"

using namespace bedshade;
using namespace bedshade::test;

namespace {

/// A tank so wide that its sides do not matter, with one lamp.
Layout wide_tank(double sand_reflectance, double water_index) {
    Layout layout = black_tank();
    layout.tank.length_m = layout.tank.width_m = 400.0;
    layout.substrate.reflectance = sand_reflectance;
    layout.water.refractive_index = water_index;
    layout.lamps = {lamp_at(Vec3(200.0, 200.0, 0.7), LampShape::point, 0.0, 100.0)};
    return layout;
}

const BedGrid kCoarse{8, 8, 50.0, 50.0};

/// The tank's diffuse light when the bed gets 100 umol/m2/s direct light everywhere.
struct EvenlyLit {
    Radiosity diffuse;
    LightState light;
    Exitance exitance;

    explicit EvenlyLit(const Layout& layout) : diffuse(layout, kCoarse) {
        diffuse.trace(run_serially);
        const std::vector<double> bed(kCoarse.size(), 100.0);
        exitance = diffuse.solve({bed, {}, {}}, lamps_on(layout, 0.0, 1.0), light, run_serially);
    }
};

LightReceptor sensor(const Vec3& normal) { return {Vec3(200.0, 200.0, 0.25), normal}; }

}  // namespace

TEST_CASE("black sand reflects nothing") {
    const Layout layout = wide_tank(0.0, 1.34);
    const EvenlyLit tank(layout);
    for (const double light : tank.light.bed_light) CHECK(light == 0.0);
}

TEST_CASE("interreflection between wide sand and the surface is a geometric series") {
    // Each round trip keeps albedo times the surface's diffuse reflectance from below, 0.4807 for
    // an index of 1.34: in total 1 / (1 - 0.45 * 0.4807) = 1.276 of the direct light.
    const double gain = 1.0 / (1.0 - 0.45 * diffuse_water_to_air_reflectance(1.34));
    const EvenlyLit tank(wide_tank(0.45, 1.34));
    double mean = 0.0;
    for (int j = 2; j < 6; ++j)
        for (int i = 2; i < 6; ++i) mean += tank.light.bed_light[kCoarse.index(i, j)] / 16.0;
    CHECK(mean == Approx(100.0 * (gain - 1.0)).epsilon(0.03));
}

TEST_CASE("a sensor over uniformly lit sand receives light from below only") {
    // Exitance B with index 1 (no reflection from above): a planar sensor facing down receives B,
    // facing up 0, a scalar one 2 B (radiance B / pi from half of all directions).
    const Layout layout = wide_tank(0.5, 1.0);
    const EvenlyLit tank(layout);
    const std::vector<LightReceptor> sensors = {sensor(-Vec3::UnitZ()), sensor(Vec3::UnitZ()),
                                                sensor(Vec3::Zero())};
    const auto light = tank.diffuse.points(sensors, lamps_on(layout, 0.0, 1.0), tank.exitance);
    CHECK(light[0] == Approx(50.0).epsilon(0.01));
    CHECK(light[1] == 0.0);
    CHECK(light[2] == Approx(100.0).epsilon(0.02));
}

TEST_CASE("a plate over the bed replaces light from above by its own exitance") {
    // A plate as wide as the tank covers it: the sand receives light from its lower side only,
    // which receives the sand's exitance and reflects it with a coral's reflectance. E = rho_s
    // rho_c (D + E) for direct light D.
    Layout layout = black_tank();
    layout.tank.length_m = layout.tank.width_m = 40.0;
    layout.substrate.reflectance = 0.5;
    layout.lamps = {lamp_at(Vec3(20.0, 20.0, 0.7), LampShape::point, 0.0, 100.0)};
    layout.colonies.resize(1);
    // Its lower side only, in triangles small enough that each part of it has some.
    TriangleMesh plate;
    constexpr std::uint32_t kCuts = 16;
    for (std::uint32_t j = 0; j <= kCuts; ++j)
        for (std::uint32_t i = 0; i <= kCuts; ++i)
            plate.vertices_m.emplace_back(2.5F * static_cast<float>(i),
                                          2.5F * static_cast<float>(j), 0.2F);
    for (std::uint32_t j = 0; j < kCuts; ++j)
        for (std::uint32_t i = 0; i < kCuts; ++i) {
            const std::uint32_t a = j * (kCuts + 1) + i, b = a + 1, c = a + kCuts + 1;
            plate.triangles.push_back({a, c, b});
            plate.triangles.push_back({b, c, c + 1});
        }
    const BedGrid grid{8, 8, 5.0, 5.0};
    Radiosity diffuse(layout, grid);
    const Box box{Vec3(0.0, 0.0, 0.2), Vec3(40.0, 40.0, 0.2)};
    diffuse.place(0, ColonyInLight{plate, box, extinction_per_m(0.0)}, {});
    diffuse.trace(run_serially);
    LightState light;
    const std::vector<double> bed(grid.size(), 100.0);
    const std::vector<ColonyLight> colonies(1);
    diffuse.solve({bed, {}, colonies}, lamps_on(layout, 0.0, 1.0), light, run_serially);
    const double both = 0.5 * kTissueReflectance;
    CHECK(light.bed_light[grid.index(4, 4)] == Approx(100.0 * both / (1.0 - both)).epsilon(0.05));
}

TEST_CASE("attenuation shares refer to direct and diffuse light together") {
    ColonyLight light;
    light.patch_umol_m2_s = {60.0};
    light.patch_baseline_umol_m2_s = {100.0};
    light.attenuation_by_colony = {{3, 0.4}};
    light.attenuation_since_baseline = {{3, 0.2}};
    light.direct_alone = 100.0 * 10.0;
    LampsToday today;
    today.lamps.resize(1);
    today.lamps[0].plateau_hours = 10.0;
    const LightReceptor patch;
    add_diffuse(light, std::vector<double>{25.0}, std::vector<double>{30.0}, {&patch, 1}, today);
    CHECK(light.patch_umol_m2_s[0] == 85.0);
    CHECK(light.patch_baseline_umol_m2_s[0] == 130.0);
    CHECK(light.attenuation_by_colony[0].share == Approx(0.4 * 100.0 / 125.0));
    CHECK(light.attenuation_since_baseline[0].share == Approx(0.2 * 100.0 / 125.0));
}
