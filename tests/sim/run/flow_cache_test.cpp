// Flow fields that are solved once.
#include "sim/run/flow_cache.h"

#include <catch2/catch.hpp>
#include <filesystem>
#include <fstream>
#include <unistd.h>

#include "sim/base/pool.h"
#include "sim/run/flow_cache_folder.h"

#include "tests/meshes.h"

using namespace bedshade;

namespace {

/// A small tank, quick to solve.
Layout small_tank() {
    Layout layout;
    layout.tank.length_m = 0.4;
    layout.tank.width_m = layout.tank.water_depth_m = 0.3;
    Pump pump;
    pump.name = "pump";
    pump.position_m = Vec3(0.03, 0.15, 0.15);
    pump.flow_m3_s = 1000.0 / 3.6e6;
    layout.pumps = {pump};
    return layout;
}

/// A folder of its own, gone afterwards.
struct Folder {
    std::filesystem::path path =
        std::filesystem::temp_directory_path() / ("bedshade_flow_" + std::to_string(getpid()));
    Folder() { std::filesystem::remove_all(path); }
    ~Folder() { std::filesystem::remove_all(path); }

    std::vector<std::filesystem::path> files() const {
        std::vector<std::filesystem::path> found;
        for (const auto& entry : std::filesystem::directory_iterator(path))
            found.push_back(entry.path());
        return found;
    }
};

const TankFlow& field_of(const std::shared_ptr<const FlowField>& flow) {
    return dynamic_cast<const GridFlow&>(*flow).field(0);
}

}  // namespace

TEST_CASE("a tank whose corals alone have changed is not solved again, and one whose pump has is") {
    FlowCache store;
    Layout layout = small_tank();
    const auto first = store.flow_of(layout, run_serially);
    CHECK(store.solved() == 1);
    layout.colonies.resize(3);
    layout.lamps.resize(1);
    CHECK(&field_of(store.flow_of(layout, run_serially)) == &field_of(first));
    CHECK(store.solved() == 1);
    layout.pumps[0].flow_m3_s *= 1.1;
    store.flow_of(layout, run_serially);
    CHECK(store.solved() == 2);
}

TEST_CASE("a pulse is the running pump's field and still water, whatever its duty") {
    FlowCache store;
    Layout layout = small_tank();
    store.flow_of(layout, run_serially);
    layout.pumps[0].program = PumpProgram::pulse;
    for (const double duty : {0.3, 0.7}) {
        layout.pumps[0].duty = duty;
        store.flow_of(layout, run_serially);
    }
    CHECK(store.solved() == 2);
}

TEST_CASE("whatever a field depends on is in its key, and nothing else") {
    const Layout layout = small_tank();
    FlowScene scene{layout.tank, 0.001, Water{}, layout.pumps, {}};
    const std::string key = flow_key(scene, {true}, 0.04);
    const auto differs = [&](const auto& change) {
        FlowScene other = scene;
        change(other);
        return flow_key(other, {true}, 0.04) != key;
    };
    CHECK(differs([](FlowScene& s) { s.tank.width_m += 1e-9; }));
    CHECK(differs([](FlowScene& s) { s.grain_m *= 2.0; }));
    CHECK(differs([](FlowScene& s) { s.water.temperature_C += 1.0; }));
    CHECK(differs([](FlowScene& s) { s.pumps[0].nozzle_m *= 2.0; }));
    CHECK(differs([](FlowScene& s) { s.rocks = {{"", RockDome{Vec3::Zero(), 0.1, 0.1}}}; }));
    const auto with_mesh = [&](double top_m) {
        FlowScene other = scene;
        other.rocks = {{"", test::box_as_mesh(Vec3::Zero(), Vec3(0.1, 0.1, top_m))}};
        return flow_key(other, {true}, 0.04);
    };
    CHECK(with_mesh(0.1) != key);
    CHECK(with_mesh(0.1) == with_mesh(0.1));
    CHECK(with_mesh(0.1) != with_mesh(0.1 + 1e-9));
    CHECK(flow_key(scene, {false}, 0.04) != key);
    CHECK(flow_key(scene, {true}, 0.03) != key);
    CHECK_FALSE(differs([](FlowScene& s) { s.water.yellowing_per_m *= 2.0; }));
    CHECK_FALSE(differs([](FlowScene& s) { s.pumps[0].name = "other"; }));
}

TEST_CASE("cells grow where a tank would take too many") {
    Tank tank;
    tank.length_m = 1.2, tank.width_m = 0.6, tank.water_depth_m = 0.55;
    CHECK(flow_cell_m(tank) == 0.04);
    tank.length_m = tank.width_m = tank.water_depth_m = 10.0;
    CHECK(tank_grid(tank, flow_cell_m(tank)).cell_count() < 20000);
}

TEST_CASE("what several threads ask for at once is solved once", "[threads]") {
    FlowCache store;
    const Layout layout = small_tank();
    Pool pool(4);
    pool.parallel_for()(4, [&](std::size_t, std::size_t) { store.flow_of(layout, run_serially); });
    CHECK(store.solved() == 1);
}

TEST_CASE(
    "a field comes back from the folder with the same bits, and a spoilt file is solved anew") {
    const Folder folder;
    FlowCache first(std::make_shared<FlowCacheFolder>(folder.path));
    const auto solved = first.flow_of(small_tank(), run_serially);
    REQUIRE(folder.files().size() == 1);
    FlowCache second(std::make_shared<FlowCacheFolder>(folder.path));
    const auto read = second.flow_of(small_tank(), run_serially);
    CHECK(second.solved() == 0);
    CHECK(field_of(read).velocity_m_s == field_of(solved).velocity_m_s);
    CHECK(field_of(read).turbulent_speed_m_s == field_of(solved).turbulent_speed_m_s);
    CHECK(field_of(read).solid == field_of(solved).solid);
    for (const auto size : {std::uintmax_t{0}, std::uintmax_t{100}, std::uintmax_t{5000}}) {
        std::filesystem::resize_file(folder.files()[0], size);
        FlowCache third(std::make_shared<FlowCacheFolder>(folder.path));
        third.flow_of(small_tank(), run_serially);
        CHECK(third.solved() == 1);
    }
    std::fstream(folder.files()[0], std::ios::in | std::ios::out | std::ios::binary)
        .seekp(300)
        .put('x');
    FlowCache fourth(std::make_shared<FlowCacheFolder>(folder.path));
    fourth.flow_of(small_tank(), run_serially);
    CHECK(fourth.solved() == 1);
}

TEST_CASE("the folder keeps to its bound, and a folder that cannot be is no error") {
    const Folder folder;
    FlowCacheFolder shelf(folder.path);
    TankFlow tiny;
    tiny.turbulent_speed_m_s.assign(tiny.grid.size(), 0.0);
    tiny.velocity_m_s.fill(tiny.turbulent_speed_m_s);
    tiny.solid.assign(tiny.grid.size(), false);
    for (std::size_t i = 0; i < FlowCacheFolder::kMostFiles + 5; ++i)
        shelf.put(std::to_string(i), tiny);
    CHECK(folder.files().size() == FlowCacheFolder::kMostFiles);
    CHECK(shelf.take(std::to_string(FlowCacheFolder::kMostFiles + 4)) != nullptr);
    FlowCacheFolder nowhere("/proc/no such folder");
    nowhere.put("key", tiny);
    CHECK(nowhere.take("key") == nullptr);
}
