#include "sim/run/flow_cache.h"

#include <algorithm>
#include <cmath>
#include <cstring>
#include <variant>

#include "sim/base/model_version.h"

namespace bedshade {
namespace {

/// Fields kept in memory: half a megabyte each.
constexpr std::size_t kMostFields = 64;
constexpr double kCell_m = 0.04;
constexpr double kMostCells = 16000.0;

/// Bytes of numbers, one after the other; counts go before lists, so that no two scenes agree.
class KeyWriter {
  public:
    void add(double number) {
        char bytes[sizeof number];
        std::memcpy(bytes, &number, sizeof number);
        key_.append(bytes, sizeof number);
    }
    void add(const Vec3& v) {
        for (int axis = 0; axis < 3; ++axis) add(v[axis]);
    }
    void add(const std::string& text) {
        add(static_cast<double>(text.size()));
        key_ += text;
    }
    void operator()(const RockBox& box) { add(0.0), add(box.min_m), add(box.max_m); }
    void operator()(const RockSlab& slab) {
        add(1.0), add(slab.centre_m), add(slab.size_m), add(slab.tilt_rad), add(slab.azimuth_rad);
    }
    void operator()(const RockDome& dome) {
        add(2.0), add(dome.centre_m), add(dome.radius_m), add(dome.height_m);
    }
    void operator()(const RockMesh& mesh) {
        add(3.0);
        add(static_cast<double>(mesh.solid().vertices_m().size()));
        for (const Vec3& v : mesh.solid().vertices_m()) add(v);
        add(static_cast<double>(mesh.solid().triangles().size()));
        for (const auto& corners : mesh.solid().triangles())
            for (const int corner : corners) add(static_cast<double>(corner));
    }
    const std::string& key() const { return key_; }

  private:
    std::string key_;
};

FlowScene scene_of(const Layout& layout) {
    return {layout.tank, layout.substrate.grain_m, layout.water, layout.pumps, layout.rocks};
}

}  // namespace

double flow_cell_m(const Tank& tank) {
    return std::max(kCell_m, std::cbrt(water_volume(tank).max.prod() / kMostCells));
}

std::string flow_key(const FlowScene& scene, const std::vector<bool>& running, double cell_m) {
    KeyWriter key;
    key.add(std::string(kModelVersion));
    key.add(cell_m);
    key.add(water_volume(scene.tank).max);
    key.add(scene.grain_m);
    key.add(scene.water.temperature_C);
    key.add(scene.water.salinity_g_kg);
    const std::vector<Pump> pumps = running_pumps(scene, running);
    key.add(static_cast<double>(pumps.size()));
    for (const Pump& pump : pumps) {
        key.add(pump.position_m), key.add(pump.direction);
        key.add(pump.nozzle_m), key.add(pump.flow_m3_s);
    }
    for (const Rock& rock : scene.rocks) std::visit(key, rock.shape);
    return key.key();
}

class FlowCache::Turn {
  public:
    Turn(FlowCache& store, const std::string& key) : store_(store), key_(key) {
        std::unique_lock lock(store_.mutex_);
        store_.freed_.wait(lock, [&] { return store_.taken_.insert(key_).second; });
    }
    ~Turn() {
        {
            const std::lock_guard lock(store_.mutex_);
            store_.taken_.erase(key_);
        }
        store_.freed_.notify_all();
    }
    Turn(const Turn&) = delete;
    Turn& operator=(const Turn&) = delete;

  private:
    FlowCache& store_;
    const std::string& key_;
};

std::shared_ptr<const FlowField> FlowCache::flow_of(const Layout& layout,
                                                    const ParallelFor& parallel) {
    const FlowScene scene = scene_of(layout);
    const double cell_m = flow_cell_m(layout.tank);
    const std::vector<PumpSetting> settings = pump_settings(layout.pumps);
    std::vector<std::shared_ptr<const TankFlow>> fields(settings.size());
    parallel(settings.size(), [&](std::size_t begin, std::size_t end) {
        for (std::size_t s = begin; s < end; ++s)
            fields[s] = field(scene, settings[s].running, cell_m);
    });
    return std::make_shared<GridFlow>(scene, std::move(fields));
}

int FlowCache::solved() const {
    const std::lock_guard lock(mutex_);
    return solved_;
}

std::shared_ptr<const TankFlow> FlowCache::field(const FlowScene& scene,
                                                 const std::vector<bool>& running, double cell_m) {
    const std::string key = flow_key(scene, running, cell_m);
    const Turn turn(*this, key);
    if (auto found = find(key)) return found;
    auto flow = shelf_ ? shelf_->take(key) : nullptr;
    if (!flow) {
        flow = std::make_shared<const TankFlow>(solve_tank_flow(scene, running, cell_m));
        const std::lock_guard lock(mutex_);
        ++solved_;
        if (shelf_) shelf_->put(key, *flow);
    }
    keep(key, flow);
    return flow;
}

std::shared_ptr<const TankFlow> FlowCache::find(const std::string& key) {
    const std::lock_guard lock(mutex_);
    const auto at = std::find_if(entries_.begin(), entries_.end(),
                                 [&](const Entry& entry) { return entry.key == key; });
    if (at == entries_.end()) return nullptr;
    std::rotate(at, at + 1, entries_.end());
    return entries_.back().flow;
}

void FlowCache::keep(const std::string& key, std::shared_ptr<const TankFlow> flow) {
    const std::lock_guard lock(mutex_);
    if (entries_.size() >= kMostFields) entries_.erase(entries_.begin());
    entries_.push_back({key, std::move(flow)});
}

FlowCache& process_flow_cache() {
    static FlowCache store;
    return store;
}

}  // namespace bedshade
