#include "sim/export/rerun_until.h"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>

#include "sim/base/model_version.h"
#include "sim/run/calibration.h"
#include "sim/trajectory/run_layout.h"
#include "sim/verdict/flag_detector.h"

namespace bedshade {
namespace {

bool same_in_file(double a, double b) { return static_cast<float>(a) == static_cast<float>(b); }

/// Whether corals stand alike, at the precision of a file.
bool same_in_file(const ColonyRecord& a, const ColonyRecord& b) {
    if (a.present != b.present || a.stage != b.stage) return false;
    if (!a.present) return true;
    bool same = same_in_file(a.live_fraction, b.live_fraction) &&
                same_in_file(a.height_m, b.height_m) &&
                same_in_file(a.dli_mol_m2_d, b.dli_mol_m2_d);
    for (int axis = 0; axis < 3; ++axis)
        same = same && same_in_file(a.position_m[axis], b.position_m[axis]);
    for (std::size_t s = 0; s < a.radius_m.size(); ++s)
        same = same && same_in_file(a.radius_m[s], b.radius_m[s]);
    return same;
}

/// Holds every frame against the file's.
class Proof final : public SnapshotSink {
  public:
    explicit Proof(const Trajectory& run) : run_(run) {}

    void take(const Snapshot& snapshot) override {
        const auto at = static_cast<std::size_t>(snapshot_);
        if (snapshot_ >= run_.snapshots(0) || run_.days_d()[at] != snapshot.day_d)
            report_error(snapshot);
        const auto kept = run_.colonies_at(0, snapshot_);
        for (std::size_t i = 0; i < kept.size(); ++i)
            if (!same_in_file(kept[i], record_of(snapshot.reef.colonies[i], snapshot.colonies[i])))
                report_error(snapshot);
        ++snapshot_;
    }

  private:
    [[noreturn]] void report_error(const Snapshot& snapshot) const {
        const RunProvenance& facts = run_.facts();
        throw TrajectoryError(fmt::format(
            "run again, the run differs from day {:g} on: the file was made by bedshade {} "
            "(model {}), this is {} (model {}); forecast its layout anew and export that",
            snapshot.day_d, facts.program_version, facts.model_version, kProgramVersion,
            kModelVersion));
    }

    const Trajectory& run_;
    int snapshot_ = 0;
};

}  // namespace

double last_step_end_d(const Season& season, int month) {
    constexpr double kSliver_d = 1e-6;
    return std::floor((month * kDaysPerMonth + kSliver_d) / season.step_d) * season.step_d;
}

std::optional<Checkpoint> rerun_until(double day_d, const Trajectory& run, const Layout& layout,
                                      const ParallelFor& parallel, const GoOn& go_on) {
    const std::shared_ptr<const Checkpoint> before = checkpoint_of(run);
    Forecast forecast(layout, {run.facts().seed, 0, calibrate(layout).output_scale, false, before},
                      parallel);
    FlagDetector detector(layout, 0, before.get());
    Proof proof(run);
    if (!forecast.run_until(day_d, {&detector, &proof}, go_on)) return std::nullopt;
    Checkpoint checkpoint = checkpoint_of(forecast.reef(), layout);
    checkpoint.seed = run.facts().seed;
    detector.store(checkpoint);
    return checkpoint;
}

}  // namespace bedshade
