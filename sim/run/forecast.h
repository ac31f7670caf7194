// The step loop: one layout, one member, from day 0 (or where a season goes on) to the horizon.
//
// Each step looks (light, carbon, flow, sand: a Snapshot), hands the frame to whoever watches, then
// moves the reef on (growth, recession, sand, acclimation,
// contact, walks and falls). Results depend on layout, seed
// and member alone, never on threads.
#pragma once

#include <functional>
#include <memory>
#include <span>
#include <vector>

#include "model/base/parallel.h"
#include "model/flow/flow_field.h"
#include "model/light/light_receptor.h"
#include "model/reef/so_far.h"

#include "sim/run/snapshot.h"

namespace bedshade {

struct ForecastOptions {
    std::uint64_t seed = 1;
    int member = 0;
    double output_scale = 1.0;  ///< multiplies every lamp (from meter readings)
    bool full_light = false;    ///< trace all light anew each step: the same bits, slowly
};

class Forecast {
  public:
    Forecast(const Layout& layout, const ForecastOptions& options, ParallelFor parallel);
    ~Forecast();

    /// What there is to see today; `step_d` is how long until the next look (0: none follows).
    Snapshot observe(double step_d);

    /// Moves the reef on by the step the frame was looked at for.
    void advance(const Snapshot& snapshot);

    /// Looks and advances to the horizon. Every sink takes every frame. Stops early, after a whole
    /// frame, when `go_on` (asked once a step with the share done) says no; returns whether it ran
    /// to the end.
    bool run(const std::vector<SnapshotSink*>& sinks, const std::function<bool(double)>& go_on);

    /// The same until a day on which a step ends, before what is planned for that day.
    bool run_until(double until_d, const std::vector<SnapshotSink*>& sinks,
                   const std::function<bool(double)>& go_on);

    /// How the tank stands after `run_until`, for a season that goes on from there. What watches
    /// a run knows more, and adds it.
    SeasonSoFar so_far() const;

    const BedGrid& grid() const;
    /// Days from start to horizon.
    double horizon_d() const;
    /// The flow of the first day.
    const FlowField& flow() const;
    /// Plateau light of each lamp at points, as the reef stands, [point][lamp] [umol m-2 s-1].
    std::vector<double> light_at(std::span<const LightReceptor> receptors) const;

  private:
    struct State;
    std::unique_ptr<State> state_;
};

}  // namespace bedshade
