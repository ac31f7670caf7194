// What happened to each colony, in words: the events of a trajectory.
#pragma once

#include <vector>

#include "sim/run/checkpoint.h"
#include "sim/run/event.h"
#include "sim/run/snapshot.h"

namespace bedshade {

/// Whether an event is an action of the plan.
bool is_action_event(const EventRecord& event);

/// Whether an event is that two cuttings of one individual have grown together.
bool is_fusion(const EventRecord& event);

/// Notes what the keeper does, when a colony begins to grow, to live on its reserve, to lose
/// tissue, when it dies, and when two cuttings of one individual have become one.
class EventLog final : public SnapshotSink {
  public:
    explicit EventLog(const Layout& layout, int member = 0, const Checkpoint* checkpoint = nullptr);

    void take(const Snapshot& snapshot) override;

    /// In order of day, then colony.
    const std::vector<EventRecord>& events() const { return events_; }

  private:
    struct Pair {
        std::size_t a, b;
    };
    void note_fusions(const Snapshot& snapshot);

    const Layout& layout_;
    int member_;
    std::vector<Stage> stage_;  // by colony, as last seen
    std::vector<Pair> apart_;   // cuttings of one individual that have not met
    std::vector<EventRecord> events_;
};

}  // namespace bedshade
