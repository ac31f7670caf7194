// scenarios/all_keys.toml holds every key a layout knows; each must arrive with its value.
#include <catch2/catch.hpp>
#include <cmath>
#include <filesystem>
#include <fmt/format.h>
#include <fstream>
#include <set>
#include <sstream>
#include <toml++/toml.h>

#include "model/sediment/sediment_rejection.h"

#include "sim/base/calendar.h"
#include "sim/base/flag.h"
#include "sim/input/layout/layout_reader.h"

#include "layout_dump.h"

using namespace bedshade;

namespace {

const std::filesystem::path kScenarios = BEDSHADE_SOURCE_DIR "/scenarios";

LayoutFile all_keys() { return read_layout(kScenarios / "all_keys.toml"); }

constexpr double kDeg = kPi / 180.0;

void collect(const toml::table& table, const std::string& above, std::set<std::string>& paths) {
    for (auto&& [key, value] : table) {
        const std::string path =
            above.empty() ? std::string(key.str()) : fmt::format("{}.{}", above, key.str());
        paths.insert(path);
        if (const auto* inner = value.as_table()) collect(*inner, path, paths);
        if (const auto* list = value.as_array())
            for (const auto& item : *list)
                if (item.is_table()) collect(*item.as_table(), path, paths);
    }
}

}  // namespace

TEST_CASE("all keys: season, tank, substrate") {
    const Layout layout = all_keys().layout;
    CHECK(layout.title == "all keys");
    CHECK(to_string(layout.season.start) == "2027-01-01");
    CHECK(layout.season.months == 24);
    CHECK(layout.season.from_d == 14.0);
    CHECK(layout.season.step_d == Approx(7.0));
    CHECK(layout.season.use_readings);
    const Tank& tank = layout.tank;
    CHECK(tank.length_m == Approx(1.2));
    CHECK(tank.width_m == Approx(0.6));
    CHECK(tank.water_depth_m == Approx(0.55));
    CHECK(tank.rim_m == Approx(0.03));
    CHECK(tank.cover_transmittance == Approx(0.95));
    CHECK(tank.wall(Side::back).kind == WallKind::coralline);
    CHECK(tank.wall(Side::front).kind == WallKind::acrylic);
    CHECK(tank.wall(Side::left).kind == WallKind::black);
    CHECK(tank.wall(Side::right).kind == WallKind::diffuse);
    CHECK(tank.wall(Side::right).reflectance == Approx(0.3));
    const Substrate& sand = layout.substrate;
    CHECK(sand.grain_m == Approx(1.2e-3));
    CHECK(sand.density_kg_m3 == Approx(2750.0));
    CHECK(sand.porosity == Approx(0.45));
    CHECK(sand.depth_m == Approx(0.05));
    CHECK(sand.reflectance == Approx(0.40));
    REQUIRE(sand.patches.size() == 1);
    CHECK(sand.patches[0].name == "rubble");
    CHECK(sand.patches[0].around_m.isApprox(Vec2(0.8, 0.2)));
    CHECK(sand.patches[0].radius_m == Approx(0.15));
    CHECK(sand.patches[0].grain_m == Approx(6e-3));
}

TEST_CASE("all keys: the current state of a colony") {
    const LayoutFile file = all_keys();
    REQUIRE(file.checkpoint);
    CHECK(file.checkpoint->day_d == 14.0);
    CHECK(file.checkpoint->seed == 1);
    REQUIRE(file.checkpoint->colonies.front());
    const ColonyCheckpoint& now = *file.checkpoint->colonies.front();
    const ColonyState& state = now.state;
    CHECK(state.present);
    CHECK(state.stage == Stage::growing);
    CHECK(state.position_m == Vec3(0.3, 0.31, 0.2));
    CHECK(state.radius_m[0] == Approx(0.04));
    CHECK(state.radius_m[6] == Approx(0.05));
    CHECK(state.height_m == Approx(0.032));
    CHECK_FALSE(state.touching.glass);
    CHECK_FALSE(state.touching.surface);
    CHECK(state.touching.size_limit);
    CHECK(state.live_fraction == 0.875);
    CHECK(state.saturation_umol_m2_s == 250.5);
    CHECK(state.reserve == 0.5);
    CHECK(state.sand_kg_m2 == 0.02);
    CHECK(state.sand_transmittance == sand_transmittance(0.02));
    CHECK(state.sand_over_d == 3.5);
    CHECK(state.settled_at_d == 7.0);
    CHECK(state.lost.to_darkness == 0.01);
    CHECK(state.lost.to_sand == 0.02);
    CHECK(state.lost.to_stings == 0.03);
    CHECK(state.lost.to_overgrowth == 0.04);
    CHECK(state.lost.to_infauna == 0.05);
    REQUIRE(now.touched_since_d.size() == 1);
    CHECK(now.touched_since_d[0] == std::pair<std::string, double>("A2", 7.0));
    CHECK(now.stung_by == "B1");
    CHECK(now.by_chemistry);
    CHECK(now.overgrown_by == "A2");
    CHECK(now.raised == ((1U << static_cast<unsigned>(FlagKind::outgrown)) |
                         (1U << static_cast<unsigned>(FlagKind::stung))));
    REQUIRE(now.mean_net_carbon);
    CHECK(*now.mean_net_carbon == std::array{0.1, 0.2, 0.1});
    CHECK(now.too_slow_since_d == 10.0);
    CHECK(now.too_fast_since_d == 10.0);
    CHECK(now.placed_m == Vec3(0.3, 0.31, 0.2));
    CHECK_FALSE(file.checkpoint->colonies[1]);
}

TEST_CASE("all keys: water") {
    const Water water = all_keys().layout.water;
    CHECK(water.temperature_C == Approx(25.5));
    CHECK(water.salinity_g_kg == Approx(35.0));
    CHECK(water.yellowing_per_m == Approx(0.15));
    CHECK(water.turbidity_kg_m3 == Approx(5e-4));
    CHECK(water.turbidity_grain_m == Approx(1e-5));
    CHECK(water.attenuation_per_m == 0.3);
    CHECK(water.refractive_index == 1.34);
    CHECK(water.yellowing_drift_per_m_week == Approx(0.03));
    CHECK(water.drift_reset_weeks == Approx(6.0));
    CHECK(water.seasonal_swing_K == Approx(1.0));
    CHECK(water.warmest_month == 8);
}

TEST_CASE("all keys: lamps") {
    const auto lamps = all_keys().layout.lamps;
    REQUIRE(lamps.size() == 3);
    const Lamp& right = lamps[0];  // the base comes first
    CHECK(right.name == "right");
    CHECK(right.centre_m.isApprox(Vec3(0.9, 0.3, 0.55 + 8 * 0.0254)));
    CHECK(right.shape == LampShape::disc);
    CHECK(right.size_m.isApprox(Vec2(0.15, 0.15)));
    CHECK(right.photon_flux_umol_s == Approx(250.0));
    // cos(60 deg)^m = 1/2 is m = 1.
    CHECK(right.beam_exponent == Approx(1.0));
    REQUIRE(right.spectrum_table);
    CHECK(right.spectrum_table->wavelength_nm[1] == 450.0);
    CHECK(right.spectrum_table->photons[1] == 1.0);
    const Lamp& left = lamps[1];
    CHECK(left.centre_m.isApprox(Vec3(0.3, 0.3, 0.75)));
    CHECK(left.shape == LampShape::rectangle);
    CHECK(left.photon_flux_umol_s == 450.0);
    CHECK(left.output == 0.25);
    CHECK(left.tilt_rad == Approx(10 * kDeg));
    CHECK(left.azimuth_rad == Approx(90 * kDeg));
    CHECK(left.day.on_h == 10.0);
    CHECK(left.day.off_h == 20.0);
    CHECK(left.day.ramp_h == Approx(2.0));
    CHECK(left.ageing_per_year == 0.04);
    REQUIRE(left.spectrum.size() == 3);
    double shares = 0.0;
    for (const auto& part : left.spectrum) shares += part.share;
    CHECK(shares == Approx(1.0).epsilon(1e-12));
    CHECK(left.spectrum[0].peak_nm == Approx(450.0));
    CHECK(left.spectrum[2].colour_temperature_K == 14000.0);
    const Lamp& spot = lamps[2];
    REQUIRE(spot.web);
    CHECK(spot.web->polar_rad.size() == 10);
    CHECK(spot.web->turn_rad.size() == 9);      // its half mirrored
    CHECK(spot.web->at(6, 3) == 81.0);          // C270 is C90
    CHECK(spot.shape == LampShape::rectangle);  // of the file's luminous opening
    CHECK(spot.size_m.isApprox(Vec2(0.10, 0.06)));
    CHECK(spot.spectrum_table->photons.size() == 3);
}

TEST_CASE("all keys: pumps") {
    const auto pumps = all_keys().layout.pumps;
    REQUIRE(pumps.size() == 4);  // the base's spare is taken away
    CHECK(pumps[0].name == "left return");
    CHECK(pumps[0].position_m.isApprox(Vec3(0.02, 0.3, 0.4)));
    CHECK(pumps[0].direction.isApprox(Vec3(0.58, 0.0, -0.2).normalized()));
    CHECK(pumps[0].nozzle_m == Approx(0.025));
    CHECK(pumps[0].flow_m3_s == Approx(6.0 / 3600));
    CHECK(pumps[0].duty == 1.0);
    CHECK(pumps[1].program == PumpProgram::pulse);
    CHECK(pumps[1].period_s == Approx(4.0));
    CHECK(pumps[1].duty == 0.6);
    CHECK(pumps[2].program == PumpProgram::alternate);
    CHECK(pumps[2].alternates_with == "gyre b");
    CHECK(pumps[2].period_s == Approx(120.0));
    CHECK(pumps[2].duty == 0.5);
}

TEST_CASE("all keys: rocks and inhabitants") {
    const Layout layout = all_keys().layout;
    REQUIRE(layout.rocks.size() == 5);
    CHECK(std::get<RockBox>(layout.rocks[0].shape).max_m.isApprox(Vec3(0.5, 0.5, 0.2)));
    CHECK(layout.rocks[0].reflectance == 0.15);
    const auto& slab = std::get<RockSlab>(layout.rocks[1].shape);
    CHECK(slab.centre_m.isApprox(Vec3(0.9, 0.45, 0.15)));
    CHECK(slab.size_m.isApprox(Vec3(0.3, 0.2, 0.05)));
    CHECK(slab.tilt_rad == Approx(15 * kDeg));
    CHECK(slab.azimuth_rad == Approx(180 * kDeg));
    CHECK(layout.rocks[1].rests_on == RestsOn::rock);
    const auto& dome = std::get<RockDome>(layout.rocks[2].shape);
    CHECK(dome.radius_m == Approx(0.08));
    CHECK(dome.height_m == Approx(0.12));
    const Solid& scan = std::get<RockMesh>(layout.rocks[3].shape).solid();
    CHECK(scan.triangles().size() == 4);
    // The corner at the origin, its base's middle at 5 5 cm: fit to 8 cm of height, then turned.
    const double c = std::cos(30 * kDeg), s = std::sin(30 * kDeg);
    const Vec3 corner_m(1.0 - 0.04 * c + 0.04 * s, 0.1 - 0.04 * s - 0.04 * c, 0.0);
    CHECK(scan.vertices_m()[0].isApprox(corner_m, 1e-6));
    CHECK(scan.bounds().max.z() == Approx(0.08));
    const Solid& small_scan = std::get<RockMesh>(layout.rocks[4].shape).solid();
    CHECK(small_scan.bounds().max.isApprox(Vec3(1.145, 0.125, 0.05), 1e-6));
    REQUIRE(layout.inhabitants.size() == 2);
    const Inhabitant& goby = layout.inhabitants[0];
    CHECK(goby.does == Habit::stir);
    CHECK(goby.count == 1);
    CHECK(goby.events_per_day == 60.0);
    CHECK(goby.mass_kg == Approx(0.0015));
    CHECK(goby.lift_m == Approx(0.1));
    CHECK(goby.from_h == 8.0);
    CHECK(goby.to_h == 20.0);
    CHECK(goby.around_m.isApprox(Vec2(0.6, 0.3)));
    CHECK(goby.radius_m == Approx(0.4));
    // Without a territory: the whole floor.
    CHECK(layout.inhabitants[1].around_m.isApprox(Vec2(0.6, 0.3)));
    CHECK(layout.inhabitants[1].radius_m == Approx(std::hypot(0.6, 0.3)));
}

TEST_CASE("all keys: colonies") {
    const Layout layout = all_keys().layout;
    REQUIRE(layout.colonies.size() == 3);
    const Colony& a1 = layout.colonies[0];
    CHECK(layout.taxon_of(a1).id == "montipora-capricornis");
    CHECK(a1.position_m.isApprox(Vec3(0.3, 0.3, 0.2)));
    CHECK(a1.on.empty());
    CHECK(a1.diameter_m == Approx(0.08));
    CHECK(a1.height_m == Approx(0.03));
    CHECK(a1.live_fraction == 0.9);
    CHECK(a1.facing_azimuth_rad == Approx(45 * kDeg));
    CHECK(a1.facing_tilt_rad == Approx(20 * kDeg));
    CHECK(a1.growth_factor == 1.1);
    CHECK(a1.growth_known_to == 1.2);
    CHECK(a1.settling_d == Approx(42.0));
    CHECK_FALSE(a1.acclimated_to_dli_mol_m2_d);
    CHECK(a1.fixed);
    CHECK(a1.clone == "orange cap");
    const Colony& a2 = layout.colonies[1];
    CHECK(layout.taxon_of(a2).id == "my-montipora");
    CHECK(a2.on == "ledge");
    CHECK(a2.position_m.isApprox(Vec3(0.4, 0.3, 0.2)));
    CHECK(a2.diameter_m == Approx(0.0508));
    CHECK(a2.height_m == Approx(0.4 * 0.0508));
    CHECK(a2.settling_d == 0.0);
    CHECK(a2.acclimated_to_dli_mol_m2_d == 12.5);
    CHECK(layout.colonies[2].on_bed());
    CHECK(layout.colonies[2].position_m.z() == 0.0);
}

TEST_CASE("all keys: readings and actions") {
    const Layout layout = all_keys().layout;
    REQUIRE(layout.readings.size() == 2);
    CHECK(layout.readings[0].at_m.isApprox(Vec3(0.6, 0.3, 0.0)));
    CHECK(layout.readings[0].ppfd_umol_m2_s == 110.0);
    CHECK(layout.readings[0].on_d == 14.0);
    CHECK(layout.readings[1].on_d == 0.0);
    CHECK(layout.readings[1].sensor == Sensor::scalar);
    REQUIRE(layout.actions.size() == 8);
    CHECK(layout.actions[0].kind == ActionKind::trim);
    CHECK(layout.actions[0].day_d == 243.0);  // 1 January to 1 September of a common year
    CHECK(std::get<double>(layout.actions[0].to) == Approx(0.05));
    CHECK(layout.actions[1].day_d == Approx(8 * 30.4375));
    CHECK(std::get<Vec3>(layout.actions[1].to).isApprox(Vec3(0.9, 0.12, 0.0)));
    const auto& meals = std::get<Feeding>(layout.actions[2].to);
    CHECK(meals.food == 2.0);
    CHECK(meals.for_d == 1.0);
    CHECK(meals.every_d == 7.0);
    CHECK(layout.actions[2].colony.empty());
    CHECK_FALSE(std::get<Feeding>(layout.actions[3].to).for_d);
    CHECK(layout.actions[3].colony == "B1");
    CHECK(layout.actions[4].kind == ActionKind::clean);
    const auto& lamp = std::get<LampChange>(layout.actions[5].to);
    CHECK(lamp.lamp == "left");
    CHECK(lamp.output == 0.3);
    CHECK(*lamp.above_m == Approx(0.25));
    CHECK(lamp.day->on_h == 11.0);
    CHECK(lamp.day->off_h == 19.0);
    CHECK(lamp.day->ramp_h == 1.0);
    const auto& pump = std::get<PumpChange>(layout.actions[6].to);
    CHECK(pump.pump == "left return");
    CHECK(*pump.flow_m3_s == Approx(4000.0 / 3.6e6));
    CHECK(pump.direction->isApprox(Vec3(58.0, 0.0, 10.0).normalized()));
    const auto& water = std::get<WaterChange>(layout.actions[7].to);
    CHECK(water.temperature_C == 26.0);
    CHECK(water.yellowing_per_m == 0.05);
    CHECK(*water.turbidity_kg_m3 == Approx(0.2e-3));
    CHECK(water.attenuation_per_m == 0.25);
}

TEST_CASE("all keys: measured uncertainty") {
    const Measured measured = all_keys().layout.measured;
    CHECK(measured.output_known_to == 1.06);
    CHECK(measured.water_known_to == 1.3);
    CHECK(measured.water_with_output == 0.7);
}

TEST_CASE("all keys: the resolved text reads back to the same layout from anywhere") {
    const LayoutFile first = all_keys();
    LayoutOptions options;
    options.traits_text = first.traits_text;
    const LayoutFile second = read_layout_text(first.text, "nowhere/run.toml", options);
    CHECK(dump(second.layout) == dump(first.layout));
    CHECK(second.text == first.text);
    CHECK(second.traits_text == first.traits_text);
}

TEST_CASE("the all-keys layout has every key of the layout contract") {
    std::set<std::string> paths;
    for (const char* file : {"all_keys.toml", "all_keys_base.toml"})
        collect(toml::parse_file((kScenarios / file).string()), {}, paths);
    std::istringstream contract(R"(
        format title extends traits season.start season.months season.from_day
        tank.length tank.width tank.water_depth tank.rim tank.walls tank.front tank.back tank.left
        tank.right tank.cover substrate.grain substrate.density substrate.porosity substrate.depth
        substrate.reflectance substrate.patch.name substrate.patch.around substrate.patch.radius
        substrate.patch.grain water.temperature water.salinity water.yellowing water.turbidity.mass
        water.turbidity.size water.attenuation water.index water.drift.yellowing_per_week
        water.drift.reset_every water.seasonal.swing water.seasonal.warmest_month lamp.name
        lamp.position lamp.height lamp.shape lamp.size lamp.photon_flux lamp.watts lamp.efficacy
        lamp.output lamp.beam_exponent lamp.half_angle lamp.photometry lamp.tilt lamp.azimuth
        lamp.spectrum lamp.spectrum_file lamp.day.on lamp.day.off lamp.day.ramp lamp.ageing pump.name
        pump.position pump.toward pump.nozzle pump.flow pump.program.kind pump.program.period
        pump.program.duty pump.program.with rock.name rock.shape rock.min rock.max rock.centre
        rock.size rock.tilt rock.azimuth rock.radius rock.height rock.file rock.at rock.scale
        rock.turn rock.fit rock.reflectance rock.rests_on inhabitant.name inhabitant.does
        inhabitant.count inhabitant.events_per_day inhabitant.mass inhabitant.lift inhabitant.hours
        inhabitant.around inhabitant.radius colony.name colony.taxon colony.position colony.on
        colony.diameter colony.height colony.live colony.facing.azimuth colony.facing.tilt
        colony.growth_factor colony.growth_known_to colony.settling colony.acclimated_to
        colony.fixed colony.clone colony.now.present colony.now.stage colony.now.position colony.now.outline
        colony.now.height colony.now.at_glass colony.now.at_surface colony.now.at_size_limit
        colony.now.live colony.now.saturation colony.now.reserve colony.now.sand
        colony.now.sand_over colony.now.grows_from_day
        colony.now.lost.to_darkness colony.now.lost.to_sand colony.now.lost.to_stings
        colony.now.lost.to_overgrowth colony.now.lost.to_dwellers colony.now.touches.colony
        colony.now.touches.since_day colony.now.stung_by colony.now.by_chemistry
        colony.now.overgrown_by colony.now.raised
        measured.output_known_to measured.water_known_to
        measured.water_with_output reading.at reading.ppfd reading.on reading.sensor action.on action.month action.do action.colony
        action.to action.food action.for action.every action.lamp action.output action.height
        action.day.on action.day.off action.day.ramp action.pump action.flow action.toward
        action.water.temperature action.water.yellowing action.water.turbidity.mass
        action.water.attenuation pump.remove)");
    for (std::string path; contract >> path;)
        CHECK((path + (paths.count(path) ? "" : " is missing")) == path);
}
