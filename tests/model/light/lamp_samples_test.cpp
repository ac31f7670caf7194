// Convergence in the number of sample points on extended lamps: twice as many change the light very
// little.
#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <numeric>

#include "model/light/light_field.h"

#include "tests/layouts.h"

using namespace bedshade;
using namespace bedshade::test;

namespace {

/// The tank of scenarios/ledge_over_bed.toml without its reef: two broad lamps 20 cm over 55 cm of
/// water.
Layout two_broad_lamps(LampShape shape, double exponent, WallKind walls) {
    Layout layout;
    layout.tank.length_m = 1.2;
    layout.tank.width_m = 0.6;
    layout.tank.water_depth_m = 0.55;
    for (Wall& wall : layout.tank.walls) wall.kind = walls;
    layout.lamps = {lamp_at(Vec3(0.34, 0.3, 0.75), shape, 0.2, 60.0),
                    lamp_at(Vec3(0.86, 0.3, 0.75), shape, 0.2, 60.0)};
    for (Lamp& lamp : layout.lamps) lamp.beam_exponent = exponent;
    return layout;
}

Rock ledge() {
    Rock rock;
    rock.name = "ledge";
    rock.shape = RockBox{Vec3(0.2, 0.3, 0.0), Vec3(0.6, 0.55, 0.2)};
    return rock;
}

std::vector<double> bed_light(const Layout& layout, int samples) {
    LightField field(layout, BedGrid{24, 12, 0.05, 0.05}, samples);
    field.update(run_serially);
    const auto by_lamp = field.bed(lamps_on(layout, 0.0, 1.0), run_serially);
    std::vector<double> light;
    for (std::size_t i = 0; i < by_lamp.size(); i += 2)
        light.push_back(by_lamp[i] + by_lamp[i + 1]);
    return light;
}

struct Change {
    double mean = 0.0, most_cells = 0.0, worst = 0.0;
};

/// Change from the default number of samples to twice that, without cells under 5 % of the mean;
/// `most_cells` holds for 19 of 20.
Change change_with_twice_the_samples(const Layout& layout) {
    const auto light = bed_light(layout, LightField::kLampSamples);
    const auto finer = bed_light(layout, 2 * LightField::kLampSamples);
    const double sum = std::accumulate(light.begin(), light.end(), 0.0);
    const double finer_sum = std::accumulate(finer.begin(), finer.end(), 0.0);
    std::vector<double> by_cell;
    for (std::size_t i = 0; i < light.size(); ++i)
        if (light[i] > 0.05 * sum / static_cast<double>(light.size()))
            by_cell.push_back(std::abs(finer[i] / light[i] - 1.0));
    std::sort(by_cell.begin(), by_cell.end());
    return {std::abs(finer_sum / sum - 1.0), by_cell[by_cell.size() * 19 / 20], by_cell.back()};
}

}  // namespace

TEST_CASE("twice the points on a lamp change direct light by less than a percent in every cell") {
    // This is for a cosine lamp; a narrower beam changes a single cell by up to 1.5 percent.
    const auto shape = GENERATE(LampShape::rectangle, LampShape::disc);
    const double exponent = GENERATE(1.0, 4.8);
    const auto change =
        change_with_twice_the_samples(two_broad_lamps(shape, exponent, WallKind::black));
    CAPTURE(exponent, change.mean, change.worst);
    CHECK(change.mean < 1e-3);
    CHECK(change.worst < (exponent > 1.0 ? 0.015 : 0.01));
}

TEST_CASE(
    "with reflecting glass twice the points on a lamp change the mean by less than a percent") {
    // Reflected paths have a quarter of the points; where a pane's edge cuts a lamp's image, a
    // single cell changes by a few percent.
    const auto shape = GENERATE(LampShape::rectangle, LampShape::disc);
    const auto change = change_with_twice_the_samples(two_broad_lamps(shape, 1.0, WallKind::glass));
    CAPTURE(change.mean, change.most_cells, change.worst);
    CHECK(change.mean < 0.01);
    CHECK(change.most_cells < 0.015);
    CHECK(change.worst < 0.03);
}

TEST_CASE("in the penumbra of rock twice the points change the mean by less than a percent") {
    Layout layout = two_broad_lamps(LampShape::rectangle, 1.0, WallKind::black);
    layout.rocks = {ledge()};
    const auto change = change_with_twice_the_samples(layout);
    CAPTURE(change.mean, change.worst);
    CHECK(change.mean < 0.01);
}
