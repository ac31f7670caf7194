// Rock as a mesh occludes and reflects like the analytic shape.
#include <catch2/catch.hpp>

#include "model/light/light_field.h"

#include "tests/meshes.h"
#include "tests/model/monte_carlo/transport_checks.h"

using namespace bedshade;
using namespace bedshade::test;

namespace {

const Vec3 kMin_m(0.45, 0.2, 0.0), kMax_m(0.65, 0.4, 0.25);

/// A small glass tank with one lamp, and sand and rock that reflect light.
Layout tank_with(const Rock& rock) {
    Layout layout = black_tank();
    layout.tank.length_m = 1.0;
    layout.tank.width_m = 0.6;
    for (Wall& wall : layout.tank.walls) wall.kind = WallKind::glass;
    layout.substrate.reflectance = 0.4;
    layout.lamps.push_back(lamp_at({0.3, 0.3, 0.7}, LampShape::rectangle, 0.2, 100.0));
    layout.rocks.push_back(rock);
    layout.rocks.back().reflectance = 0.5;
    return layout;
}

const Rock kBox{"box", RockBox{kMin_m, kMax_m}};
Rock mesh_rock() { return {"mesh", box_as_mesh(kMin_m, kMax_m)}; }

}  // namespace

TEST_CASE("the light field is the same beside a box and beside the box as a mesh") {
    const Layout with_box = tank_with(kBox), with_mesh = tank_with(mesh_rock());
    const BedGrid grid{20, 12, 0.05, 0.05};
    LightField box(with_box, grid), mesh(with_mesh, grid);
    box.update(run_serially);
    mesh.update(run_serially);
    const LampsToday today = lamps_on(with_box, 0.0, 1.0);
    const auto by_box = box.bed(today, run_serially), by_mesh = mesh.bed(today, run_serially);
    double shaded = 0.0;
    for (std::size_t cell = 0; cell < by_box.size(); ++cell) {
        REQUIRE(by_mesh[cell] == Approx(by_box[cell]).epsilon(1e-6).margin(1e-9));
        shaded += by_box[cell] == 0.0;
    }
    CHECK(shaded > 0.0);
}

TEST_CASE("the Monte Carlo estimate is the same for a box and for the box as a mesh") {
    constexpr std::uint64_t kPhotons = 200000;
    const auto count = [&](const Rock& rock) {
        const Scene scene = scene_without_reef(tank_with(rock));
        return run_transport(scene, one_cell(scene.tank), kPhotons);
    };
    const auto box = count(kBox).light_at(0), mesh = count(mesh_rock()).light_at(0);
    const double error = std::hypot(box.stderr_umol_m2_s, mesh.stderr_umol_m2_s);
    CAPTURE(box.ppfd_umol_m2_s, mesh.ppfd_umol_m2_s, error);
    CHECK(std::abs(mesh.ppfd_umol_m2_s - box.ppfd_umol_m2_s) <= 3.0 * error);
    // A black rock gives another result.
    Layout dark = tank_with(mesh_rock());
    dark.rocks.back().reflectance = 0.0;
    const Scene scene = scene_without_reef(dark);
    const auto beside_dark = run_transport(scene, one_cell(scene.tank), kPhotons).light_at(0);
    CHECK(mesh.ppfd_umol_m2_s - beside_dark.ppfd_umol_m2_s > 3.0 * error);
}
