#include "sim/run/forecast.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <utility>

#include "sim/run/actions.h"

namespace bedshade {
namespace {

constexpr double kSliver_d = 1e-6;  // a step shorter than this is rounding

}  // namespace

Forecast::Forecast(const Layout& layout, const RunOptions& options, ParallelFor parallel)
    : tank_(layout, options, std::move(parallel)),
      reef_(apply_actions(tank_, initial_reef(tank_))),
      first_flow_(tank_.flow()),
      action_days_(action_days(layout)) {}

Snapshot Forecast::observe(double step_d) const { return bedshade::observe(tank_, reef_, step_d); }

void Forecast::advance(const Snapshot& snapshot) { reef_ = bedshade::advance(tank_, snapshot); }

/// The next day after the reef's on which something is done.
double Forecast::next_action_d() const {
    const auto next =
        std::upper_bound(action_days_.begin(), action_days_.end(), reef_.day_d + kSliver_d);
    return next == action_days_.end() ? std::numeric_limits<double>::infinity() : *next;
}

bool Forecast::run(const std::vector<SnapshotSink*>& sinks,
                   const std::function<bool(double)>& go_on) {
    return run_until(std::numeric_limits<double>::infinity(), sinks, go_on);
}

bool Forecast::run_until(double until_d, const std::vector<SnapshotSink*>& sinks,
                         const std::function<bool(double)>& go_on) {
    const double horizon = horizon_d();
    const double step_d = tank_.layout().season.step_d;
    const int whole_steps = static_cast<int>(std::floor((horizon + kSliver_d) / step_d));
    for (int k = static_cast<int>(std::floor((reef_.day_d + kSliver_d) / step_d));;) {
        // Days are counted, not summed, so that they carry no rounding of their own.
        const double step_end = k < whole_steps ? (k + 1) * step_d : horizon;
        // An action on the way there ends the step early.
        const double next_d = std::min(step_end, next_action_d());
        const double left = next_d - reef_.day_d;
        const bool last = left <= kSliver_d;
        const Snapshot snapshot = observe(last ? 0.0 : left);
        for (SnapshotSink* sink : sinks) sink->take(snapshot);
        if (last) return true;
        if (!go_on(snapshot.day_d / horizon)) return false;
        advance(snapshot);
        reef_.day_d = next_d;
        if (next_d > until_d - kSliver_d) return true;
        reef_ = apply_actions(tank_, change_settings(tank_, std::move(reef_)));
        if (next_d > step_end - kSliver_d) ++k;
    }
}

}  // namespace bedshade
