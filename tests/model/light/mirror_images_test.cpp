// Method of images against rays reflected by hand from side to side.
#include "model/light/mirror_images.h"

#include <catch2/catch.hpp>

#include "model/light/fresnel.h"
#include "model/light/refractive_index.h"

using namespace bedshade;

namespace {

Tank glass_tank() {
    Tank tank;
    tank.length_m = 1.2;
    tank.width_m = 0.6;
    tank.water_depth_m = 0.55;
    return tank;
}

}  // namespace

TEST_CASE("a folded path ends at the mirror image of the end of the straight path") {
    const MirrorImages mirrors(glass_tank(), 1.34);
    const Vec3 from(0.1, 0.2, 0.0), up = Vec3(-0.5, 0.7, 0.6).normalized();
    const double length = 1.4;
    Vec3 end = from;
    int pieces = 0;
    CHECK(mirrors.for_each_segment(
        from.cast<float>(), up.cast<float>(), static_cast<float>(length),
        [&](const Eigen::Vector3f& start, const Eigen::Vector3f& direction, float piece) {
            end = (start + piece * direction).cast<double>();
            ++pieces;
            return true;
        }));
    // Straight on: x goes to 0.1 - 0.668 = -0.568, y to 0.2 + 0.935 = 1.135, past the left side and
    // the back: mirrored once each they are 0.568 and 1.2 - 1.135 = 0.065.
    const Vec3 straight = from + length * up;
    CHECK(pieces == 3);
    CHECK(end.x() == Approx(-straight.x()).margin(1e-5));
    CHECK(end.y() == Approx(1.2 - straight.y()).margin(1e-5));
    CHECK(end.z() == Approx(straight.z()).margin(1e-5));
}

TEST_CASE("image cells behind black and coralline sides are excluded") {
    Tank tank = glass_tank();
    CHECK(MirrorImages(tank, 1.34).cells().size() > 9);
    tank.wall(Side::back).kind = WallKind::coralline;
    const MirrorImages coralline_back(tank, 1.34);
    for (const auto cell : coralline_back.cells()) CHECK(cell.j <= 0);
    for (Wall& wall : tank.walls) wall.kind = WallKind::black;
    CHECK(MirrorImages(tank, 1.34).cells().size() == 1);
}

TEST_CASE("reflection is total beyond the critical angle, else the reflectance of the pane") {
    // sin(incidence) > 1/n: total reflection whatever the pane (Fresnel; slab with an air side).
    const MirrorImages mirrors(glass_tank(), 1.34);
    const Vec3 steep = Vec3(0.3, 0.2, 0.93).normalized();
    CHECK(mirrors.reflectance(steep, {2, -1}) == Approx(1.0).epsilon(1e-12));
    const Vec3 head_on(1.0, 0.0, 0.0);
    const double pane = pane_reflectance(1.0, {1.34, float_glass_refractive_index(480.0)});
    CHECK(mirrors.reflectance(head_on, {3, 0}) == Approx(pane * pane * pane).epsilon(1e-12));
}
