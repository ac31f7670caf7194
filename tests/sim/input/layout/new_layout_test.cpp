#include "sim/input/layout/new_layout.h"

#include <catch2/catch.hpp>

#include "sim/input/layout/layout_reader.h"

using namespace bedshade;

TEST_CASE("a new layout reads without errors or warnings at any size") {
    struct Size {
        double length_m, width_m, depth_m;
    };
    for (const auto& size :
         {Size{0.3, 0.3, 0.3}, Size{0.6, 0.45, 0.45}, Size{1.2, 0.6, 0.55}, Size{2.0, 0.8, 0.7},
          Size{0.05, 0.05, 0.05}, Size{20, 20, 5}, Size{0.4, 1.5, 0.3}}) {
        const auto file = read_layout_text(
            new_layout_text(size.length_m, size.width_m, size.depth_m), "new.toml");
        for (const auto& warning : file.warnings) FAIL(render(warning));
        CHECK(file.layout.tank.length_m == Approx(size.length_m));
        CHECK(file.layout.tank.width_m == Approx(size.width_m));
        CHECK(file.layout.tank.water_depth_m == Approx(size.depth_m));
        CHECK(file.layout.pumps.size() == 2);
        CHECK(file.layout.rocks.size() == 1);
        CHECK(file.layout.colonies.size() == 5);
    }
}

TEST_CASE("a new layout hangs a lamp for each 60 cm and lights small and large floors alike") {
    const auto small = read_layout_text(new_layout_text(0.3, 0.3, 0.3), "new.toml").layout;
    const auto large = read_layout_text(new_layout_text(1.8, 0.6, 0.6), "new.toml").layout;
    CHECK(small.lamps.size() == 1);
    REQUIRE(large.lamps.size() == 3);
    const double per_area_small = small.lamps[0].photon_flux_umol_s / 0.09;
    const double per_area_large = 3 * large.lamps[0].photon_flux_umol_s / 1.08;
    CHECK(per_area_small == Approx(per_area_large).epsilon(0.1));
}
