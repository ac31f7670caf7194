// The step loop: one layout, one member, from day 0 (or where a run continues) to the horizon.
//
// Each step applies the day's settings and actions, observes (a Snapshot), hands the snapshot to
// its sinks, and advances the reef (sim/run/step.h). Results depend on layout, seed and member
// alone, never on threads.
#pragma once

#include <functional>
#include <memory>
#include <span>
#include <vector>

#include "model/base/parallel.h"
#include "model/flow/flow_field.h"

#include "sim/run/step.h"

namespace bedshade {

class Forecast {
  public:
    Forecast(const Layout& layout, const RunOptions& options, ParallelFor parallel);

    /// Observes the reef as it stands; `step_d` is the time until the next observation (0: none
    /// follows).
    Snapshot observe(double step_d) const;

    /// Moves the reef to the end of the snapshot's step.
    void advance(const Snapshot& snapshot);

    /// Steps to the horizon. Every sink takes every snapshot. Stops early, after a whole snapshot,
    /// when `go_on` (asked once a step with the fraction done) says no; returns whether it reached
    /// the horizon.
    bool run(const std::vector<SnapshotSink*>& sinks, const std::function<bool(double)>& go_on);

    /// The same until a day on which a step ends, before what is planned for that day.
    bool run_until(double until_d, const std::vector<SnapshotSink*>& sinks,
                   const std::function<bool(double)>& go_on);

    const Reef& reef() const { return reef_; }
    /// What the run continues from; null where it begins on day 0.
    const Checkpoint* checkpoint() const { return tank_.options().checkpoint.get(); }
    const BedGrid& grid() const { return tank_.light().grid(); }
    /// Days from start to horizon.
    double horizon_d() const { return tank_.layout().season.months * kDaysPerMonth; }
    /// The flow of the first day.
    const FlowField& flow() const { return *first_flow_; }

    /// Light on the reef as it stands, and at points in it, [point][lamp] [umol m-2 s-1]. Several
    /// threads may ask for points at once.
    ReefLightObservation light() const { return tank_.light().observe(reef_, tank_.parallel()); }
    std::vector<double> light_at(const ReefLightObservation& light,
                                 std::span<const LightReceptor> receptors) const {
        return tank_.light().points(light, receptors);
    }

  private:
    double next_action_d() const;

    TankModel tank_;
    Reef reef_;
    std::shared_ptr<const FlowField> first_flow_;
    std::vector<double> action_days_;  // rising
};

}  // namespace bedshade
