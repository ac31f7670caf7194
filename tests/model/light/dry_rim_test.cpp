// Reflection and transmission at the dry rim, against a lamp mirrored by hand: with water of index
// 1 the path from a lamp, or from its mirror image, is one straight line.
#include "model/light/dry_rim.h"

#include <catch2/catch.hpp>
#include <cmath>

#include "model/light/fresnel.h"
#include "model/light/light_field.h"
#include "model/light/refractive_index.h"

#include "tests/layouts.h"

using namespace bedshade;
using namespace bedshade::test;

namespace {

const BedGrid kBed{8, 8, 0.25, 0.25};

/// A black tank of 2 x 2 m with 0.5 m of water, glass on the right, and a lamp of 100 umol/s.
Layout glass_on_the_right(const Vec3& lamp_m, double rim_m) {
    Layout layout = black_tank();
    layout.tank.rim_m = rim_m;
    layout.tank.wall(Side::right).kind = WallKind::glass;
    layout.lamps = {lamp_at(lamp_m, LampShape::point, 0.0, 100.0)};
    return layout;
}

double light_at(const Layout& layout, const Vec3& point) {
    LightField field(layout, kBed);
    field.update(run_serially);
    const LightReceptor sensor{point, Vec3::UnitZ()};
    return field.points({&sensor, 1}, lamps_on(layout, 0.0, 1.0)).front();
}

/// Light of a cosine lamp of 100 umol/s on a horizontal point: both cosine laws and the inverse
/// square.
double straight(const Vec3& lamp_m, const Vec3& spot_m) {
    const Vec3 way = lamp_m - spot_m;
    const double cosine = way.z() / way.norm();
    return 100.0 / kPi * cosine * cosine / way.squaredNorm();
}

/// Reflectance of a float glass pane in air for light between two points on both sides of its
/// plane.
double off_the_right(const Vec3& from_m, const Vec3& to_m) {
    const double cosine = std::abs((to_m - from_m).normalized().x());
    return pane_reflectance(cosine, {1.0, float_glass_refractive_index(kPpfdIndexNm)});
}

}  // namespace

TEST_CASE("a dry pane reflects only light that meets it below its edge") {
    // From the mirrored lamp at x = 2.2 to x = 1.2 the pane at 2.0 is met a fifth of the way down.
    const Vec3 lamp(1.8, 1.0, 0.8), mirrored(2.2, 1.0, 0.8), spot(1.2, 1.0, 0.0);
    const double met_above_water_m = 0.8 * 0.8 - 0.5;
    const double direct = straight(lamp, spot);
    const double both = direct + straight(mirrored, spot) * off_the_right(mirrored, spot);
    CHECK(light_at(glass_on_the_right(lamp, 0.0), spot) == Approx(direct));
    CHECK(light_at(glass_on_the_right(lamp, 0.9 * met_above_water_m), spot) == Approx(direct));
    CHECK(light_at(glass_on_the_right(lamp, 1.1 * met_above_water_m), spot) == Approx(both));
    REQUIRE(both > 1.01 * direct);
}

TEST_CASE("overgrown sides are glass above the water, black ones black") {
    const Vec3 lamp(1.8, 1.0, 0.8), mirrored(2.2, 1.0, 0.8), spot(1.2, 1.0, 0.0);
    const double off = straight(mirrored, spot) * off_the_right(mirrored, spot);
    Layout layout = glass_on_the_right(lamp, 0.3);
    layout.tank.wall(Side::right).kind = WallKind::coralline;
    CHECK(light_at(layout, spot) == Approx(straight(lamp, spot) + off));
    layout.tank.wall(Side::right).kind = WallKind::black;
    CHECK(light_at(layout, spot) == Approx(straight(lamp, spot)));
}

TEST_CASE("light of a lamp beside the tank enters through the dry pane without passing the cover") {
    // The pane is met at five sixths of the lamp's height: 12.5 cm above the water.
    const Vec3 lamp(2.1, 1.0, 0.75), spot(1.5, 1.0, 0.0);
    Layout layout = glass_on_the_right(lamp, 0.2);
    layout.tank.cover_transmittance = 0.5;
    const double through = straight(lamp, spot) * (1.0 - off_the_right(lamp, spot));
    CHECK(light_at(layout, spot) == Approx(through));
    layout.tank.rim_m = 0.1;
    CHECK(light_at(layout, spot) == Approx(0.5 * straight(lamp, spot)));
    layout.tank.rim_m = 0.2;
    layout.tank.wall(Side::right).kind = WallKind::black;
    CHECK(light_at(layout, spot) == 0.0);
}

TEST_CASE("light that passes over the rim or enters below the water line is lost") {
    Tank tank;
    tank.length_m = tank.width_m = 1.0;
    tank.water_depth_m = 0.5;
    tank.rim_m = 0.1;
    const DryRim rim(tank);
    const auto share = [&](const Vec3& source, const Vec3& crossing) {
        const auto cell = rim.image_cell_at(crossing);
        return cell ? rim.transmittance(source, crossing, *cell) : -1.0;
    };
    CHECK(share(Vec3(0.5, 0.5, 1.0), Vec3(0.9, 0.5, 0.5)) == 1.0);
    // Past the right side 8.3 cm above the water, and 14 cm above it.
    CHECK(share(Vec3(0.5, 0.5, 1.0), Vec3(1.1, 0.5, 0.5)) > 0.0);
    CHECK(share(Vec3(0.5, 0.5, 1.0), Vec3(1.2, 0.5, 0.5)) == 0.0);
    // Never over the tank.
    CHECK(share(Vec3(1.5, 0.5, 1.0), Vec3(1.2, 0.5, 0.5)) == 0.0);
    // Two image cells away: neglected.
    CHECK(share(Vec3(0.5, 0.5, 1.0), Vec3(2.1, 0.5, 0.5)) == -1.0);
}
