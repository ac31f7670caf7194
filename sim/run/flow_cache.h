// Flow fields that have been solved, by all that they depend on, so that none is solved twice.
//
// A field depends on the water box, the rock, the grain and the pumps that run: not on corals,
// lamps or for how long a pump runs. A batch that changes only corals solves each setting once.
#pragma once

#include <condition_variable>
#include <memory>
#include <mutex>
#include <set>
#include <string>
#include <vector>

#include "model/base/parallel.h"
#include "model/flow/grid_flow.h"
#include "model/reef/layout.h"

namespace bedshade {

/// A place that outlasts the process. Safe to lose: what it does not have is solved anew.
class FlowCacheStorage {
  public:
    virtual ~FlowCacheStorage() = default;
    /// The field filed under this key, or none.
    virtual std::shared_ptr<const TankFlow> take(const std::string& key) = 0;
    virtual void put(const std::string& key, const TankFlow& flow) = 0;
};

/// What a setting's field depends on, as bytes, with the model's version.
std::string flow_key(const FlowScene& scene, const std::vector<bool>& running, double cell_m);

/// Fields most lately asked for, in memory; may be used by several threads at once.
class FlowCache {
  public:
    explicit FlowCache(std::shared_ptr<FlowCacheStorage> shelf = nullptr)
        : shelf_(std::move(shelf)) {}

    /// What is solved from now on is shelved there too; not while forecasts run.
    void set_storage(std::shared_ptr<FlowCacheStorage> shelf) { shelf_ = std::move(shelf); }

    /// The flow of a layout's tank; settings that are not in store are solved, side by side.
    std::shared_ptr<const FlowField> flow_of(const Layout& layout, const ParallelFor& parallel);

    /// Fields solved since the store was opened.
    int solved() const;

  private:
    std::shared_ptr<const TankFlow> field(const FlowScene& scene, const std::vector<bool>& running,
                                          double cell_m);
    std::shared_ptr<const TankFlow> find(const std::string& key);
    void keep(const std::string& key, std::shared_ptr<const TankFlow> flow);

    /// One thread's turn at a key: whoever else wants it waits, and then finds it.
    class Turn;

    struct Entry {
        std::string key;
        std::shared_ptr<const TankFlow> flow;
    };
    std::shared_ptr<FlowCacheStorage> shelf_;
    mutable std::mutex mutex_;
    std::condition_variable freed_;
    std::set<std::string> taken_;  ///< keys that a thread is at
    std::vector<Entry> entries_;   ///< last asked for last
    int solved_ = 0;
};

/// The store of all forecasts of this process: what it gives depends on what it is asked alone, so
/// that sharing it cannot be seen but in the time it takes.
FlowCache& process_flow_cache();

/// Largest cell of a tank's flow grid [m]: 4 cm, or more where that would take over 16,000 cells.
double flow_cell_m(const Tank& tank);

}  // namespace bedshade
