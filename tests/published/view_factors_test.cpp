// View factors: the closed forms against their printed values and against our own lamps in air,
// which must light a floor as the geometry says.
#include "tests/published/view_factors.h"

#include <catch2/catch.hpp>

#include "model/light/emitter.h"
#include "model/light/surface.h"

using namespace bedshade;

namespace {

/// PPFD on a level element at the origin under a Lambertian lamp in air, per umol/s of the lamp.
double lit_per_m2(const Lamp& lamp, int count) {
    const Emitter emitter = emitter_of(lamp);
    double sum = 0.0;
    for (const EmitterPoint& point : emitter_points(lamp, count, 0.31, 0.77)) {
        const SurfacePath path = surface_path(point.position_m, Vec3::Zero(), 0.0, 1.0);
        const Vec3 direction = direction_in_air(point.position_m, Vec3::Zero(), path);
        sum += intensity_umol_s_sr(emitter, point.share, direction) * path.spreading_per_m2;
    }
    return sum;
}

Lamp disc_lamp(double radius, double height, double aside) {
    Lamp lamp;
    lamp.shape = LampShape::disc;
    lamp.size_m = {2 * radius, 2 * radius};
    lamp.centre_m = {aside, 0.0, height};
    return lamp;
}

}  // namespace

TEST_CASE("closed forms of view factors give their printed values", "[published]") {
    // Howell's catalogue; digits by quadrature; (2,2) and (2,3) also in published solver examples
    // (0.4153, 0.4756).
    using namespace view_factors;
    const auto close = [](double value) { return Approx(value).epsilon(0).margin(6e-9); };
    CHECK(coaxial_discs(1, 1, 1) == close((3 - std::sqrt(5.0)) / 2));
    CHECK(coaxial_discs(1, 2, 1) == close(.76393202));
    CHECK(coaxial_discs(.5, .5, 1) == close(.17157288));
    CHECK(coaxial_discs(.1, .1, .05) == close(.60961180));
    CHECK(element_to_disc(.1, 0, .1) == close(.5));
    CHECK(element_to_disc(.1, .05, .1) == close(.43798263));
    CHECK(element_to_disc(.1, .1, .1) == close(.27639320));
    CHECK(element_to_disc(.1, .15, .1) == close(.12629534));
    CHECK(element_to_disc(.05, .1, .15) == close(.77735010));
    CHECK(parallel_rectangles(1, 1, 1) == close(.19982490));
    CHECK(parallel_rectangles(1, 2, 1) == close(.28587538));
    CHECK(parallel_rectangles(2, 2, 1) == close(.41525328));
    CHECK(parallel_rectangles(2, 3, 1) == close(.47557644));
    CHECK(parallel_rectangles(10, 10, 1) == close(.82699452));
    CHECK(perpendicular_rectangles(1, 1) == close(.20004378));
    CHECK(perpendicular_rectangles(1, 2) == close(.11642630));
    CHECK(perpendicular_rectangles(2, 1) == close(.23285260));
    CHECK(perpendicular_rectangles(.5, 1) == close(.14618668));
    CHECK(element_to_corner(1, 1, 1) == close(.13853161));
    CHECK(4 * element_to_corner(.5, .5, .5) == close(.55412642));
    CHECK(umbra_radius(.05, .10, .3, .1) == Approx(.116667).epsilon(0).margin(1e-6));
    CHECK(penumbra_radius(.05, .10, .3, .1) == Approx(.15).epsilon(1e-12));
}

TEST_CASE("view factors keep reciprocity and closure", "[published]") {
    using namespace view_factors;
    CHECK(coaxial_discs(1, 2, 0.7) == Approx(4 * coaxial_discs(2, 1, 0.7)).epsilon(1e-12));
    // A closed unit cube: one face sees its opposite and four neighbours.
    CHECK(parallel_rectangles(1, 1, 1) + 4 * perpendicular_rectangles(1, 1) ==
          Approx(1.0).epsilon(1e-12));
}

TEST_CASE("a disc lamp in air lights the floor by its view factor", "[published]") {
    // A Lambertian face of exitance flux/area gives an element exitance times the factor.
    for (const double aside : {0.0, 0.05, 0.1, 0.15}) {
        CAPTURE(aside);
        const double radius = 0.1, height = 0.1;
        const double expected =
            view_factors::element_to_disc(height, aside, radius) / (kPi * radius * radius);
        CHECK(lit_per_m2(disc_lamp(radius, height, aside), 20000) ==
              Approx(expected).epsilon(2e-4));
        // Sixteen points already come close at a tank's distances.
        const double far =
            view_factors::element_to_disc(0.5, aside, radius) / (kPi * radius * radius);
        CHECK(lit_per_m2(disc_lamp(radius, 0.5, aside), 16) == Approx(far).epsilon(5e-3));
    }
}

TEST_CASE("a square lamp in air lights the floor by its view factor", "[published]") {
    Lamp lamp;
    lamp.shape = LampShape::rectangle;
    lamp.size_m = {1.0, 1.0};
    lamp.centre_m = {0.0, 0.0, 0.5};
    CHECK(lit_per_m2(lamp, 20000) == Approx(.55412642).epsilon(2e-4));
}
