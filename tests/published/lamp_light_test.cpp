// The light field as a whole against closed forms that anyone can work out.
#include <catch2/catch.hpp>
#include <cmath>

#include "model/growth/forms.h"
#include "model/light/light_field.h"

#include "tests/layouts.h"
#include "tests/published/view_factors.h"

using namespace bedshade;
using namespace bedshade::test;
using view_factors::element_to_disc;

namespace {

const BedGrid kBed{4, 4, 0.5, 0.5};

double light_on_axis(const Layout& layout, double z_m, const ColonyShape* shade = nullptr) {
    LightField field(layout, kBed, 1024);
    if (shade != nullptr)
        field.place(0, ColonyInLight{mesh_of(*shade), bounds_of(*shade), extinction_per_m(0.0)});
    field.update(run_serially);
    const LightReceptor sensor{Vec3(1.0, 1.0, z_m), Vec3::UnitZ()};
    return field.points({&sensor, 1}, lamps_on(layout, 0.0, 1.0)).front();
}

}  // namespace

TEST_CASE("twice the distance from a point lamp is a quarter of the light") {
    // Inverse-square law: common practice, no source. Index 1, no absorption.
    Layout layout = black_tank();
    layout.lamps = {lamp_at(Vec3(1.0, 1.0, 0.6), LampShape::point, 0.0, 100.0)};
    const double near = light_on_axis(layout, 0.4), far = light_on_axis(layout, 0.2);
    CHECK(near / far == Approx(4.0).epsilon(1e-12));
    CHECK(near == Approx(100.0 / kPi / (0.2 * 0.2)).epsilon(1e-12));
}

TEST_CASE("light dies exponentially along its path") {
    // Beer-Lambert law with one flat attenuation, straight down: exp(-K d).
    Layout layout = black_tank();
    layout.lamps = {lamp_at(Vec3(1.0, 1.0, 0.6), LampShape::point, 0.0, 100.0)};
    const double clear = light_on_axis(layout, 0.1);
    layout.water.attenuation_per_m = 1.7;
    CHECK(light_on_axis(layout, 0.1) / clear == Approx(std::exp(-1.7 * 0.4)).epsilon(1e-12));
}

TEST_CASE("a coaxial disc takes its view factor of a diffuse disc lamp's light") {
    // Howell, Catalog of Radiation Configuration Factors: a level element under a disc of radius r
    // at height h, on its axis, sees r^2/(r^2 + h^2) of it.
    const double lamp_radius = 0.3, lamp_height = 0.6, radius = GENERATE(0.02, 0.04, 0.06);
    Layout layout = black_tank();
    layout.lamps = {lamp_at(Vec3(1.0, 1.0, lamp_height), LampShape::disc, 2.0 * lamp_radius, 50.0)};
    layout.colonies.resize(1);
    ColonyShape disc;
    disc.form = Form::tabular;
    disc.base_m = Vec3(1.0, 1.0, 0.20);
    disc.radius_m.fill(radius);
    disc.height_m = 0.01;
    double under = 1.0;
    const TriangleMesh mesh = mesh_of(disc);
    for (const auto& v : mesh.vertices_m)
        if (std::hypot(v.x() - 1.0F, v.y() - 1.0F) > 0.9 * radius)
            under = std::min(under, static_cast<double>(v.z()));

    const double emittance = 50.0 / (kPi * lamp_radius * lamp_radius);
    const double z = 0.05;
    const double open = emittance * element_to_disc(lamp_height - z, 0.0, lamp_radius);
    const double hidden = emittance * element_to_disc(under - z, 0.0, radius);
    CHECK(light_on_axis(layout, z) == Approx(open).epsilon(2e-3));
    CHECK(light_on_axis(layout, z, &disc) == Approx(open - hidden).epsilon(5e-3));
}
