// What happened to each colony, in words: the events of a trajectory.
#pragma once

#include <vector>

#include "sim/season/event.h"
#include "sim/season/frame.h"

namespace bedshade {

/// Whether an event is something the keeper did.
bool is_deed(const EventRecord& event);

/// Notes what the keeper does, and when a colony begins to grow, to live on its reserve, to lose
/// tissue, and when it dies.
class Chronicle final : public FrameSink {
  public:
    explicit Chronicle(const Layout& layout, int member = 0);

    void take(const Frame& frame) override;

    /// In order of day, then colony.
    const std::vector<EventRecord>& events() const { return events_; }

  private:
    const Layout& layout_;
    int member_;
    std::vector<Stage> stage_;  // by colony, as last seen
    std::vector<EventRecord> events_;
};

}  // namespace bedshade
