#include "tools/bedshade/ensemble_run.h"

#include <algorithm>

#include "sim/run/member_sample.h"

#include "tools/bedshade/runs_progress.h"
#include "tools/bedshade/single_run.h"

namespace bedshade {
namespace {

class SnapshotKeeper final : public SnapshotSink {
  public:
    void take(const Snapshot& snapshot) override { snapshots_.push_back(snapshot); }
    const std::vector<Snapshot>& snapshots() const { return snapshots_; }

  private:
    std::vector<Snapshot> snapshots_;
};

/// One member waiting to be reported.
struct MemberRun {
    std::vector<SampledValue> drawn;
    RunRecord record;
    SnapshotKeeper kept;  ///< empty where nothing is stored
};

MemberRun run_member(const Layout& layout, RunOptions options, bool keep_snapshots,
                     RunsProgress& bar) {
    MemberRun member;
    const MemberSample draw = sample_member(layout, options);
    member.drawn = draw.drawn;
    Forecast forecast(draw.layout, options, run_serially);
    std::vector<SnapshotSink*> sinks;
    if (keep_snapshots) sinks.push_back(&member.kept);
    member.record = record_run(draw.layout, forecast, options.member, bar.next_run(), sinks);
    return member;
}

void store_member(const MemberRun& run, int member, TrajectoryWriter& trajectory) {
    for (const Snapshot& snapshot : run.kept.snapshots()) trajectory.take(member, snapshot);
    trajectory.end_member(member);
    store(run.record, trajectory);
}

std::vector<double> scores_of(const std::vector<SampledValue>& drawn) {
    std::vector<double> scores;
    scores.reserve(drawn.size());
    for (const SampledValue& quantity : drawn) scores.push_back(quantity.score);
    return scores;
}

/// Members waiting at once: enough to keep threads busy, few enough for memory.
constexpr int kWaitingPerThread = 4;

/// Members `first` to `first` + `count` - 1, each on one thread.
std::vector<MemberRun> run_wave(const Layout& layout, const RunOptions& options, int first,
                                int count, const ParallelFor& parallel, bool keep_snapshots,
                                RunsProgress& bar) {
    std::vector<MemberRun> wave(static_cast<std::size_t>(count));
    parallel(wave.size(), [&](std::size_t begin, std::size_t end) {
        for (std::size_t i = begin; i < end; ++i) {
            RunOptions own = options;
            own.member = first + static_cast<int>(i);
            wave[i] = run_member(layout, own, keep_snapshots, bar);
        }
    });
    return wave;
}

}  // namespace

EnsembleOutcome run_members(const Layout& layout, const RunOptions& options, int members,
                            const std::vector<Flag>& central, Pool& pool,
                            const Arguments& arguments, TrajectoryWriter* trajectory) {
    EnsembleOutcome outcome;
    const MemberSample best = sample_member(layout, options.seed, 0);
    for (const SampledValue& drawn : best.drawn) outcome.ensemble.quantities.push_back(drawn.name);
    outcome.ensemble.scores.push_back(scores_of(best.drawn));
    outcome.finished = true;
    std::vector<Flag> flags = central;
    RunsProgress bar("ensemble", members - 1, arguments.quiet());
    const int at_once = kWaitingPerThread * pool.threads();
    for (int next = 1; next < members && outcome.finished;) {
        for (const MemberRun& run :
             run_wave(layout, options, next, std::min(at_once, members - next), pool.parallel_for(),
                      trajectory != nullptr, bar)) {
            if (trajectory != nullptr) store_member(run, next, *trajectory);
            outcome.ensemble.scores.push_back(scores_of(run.drawn));
            flags.insert(flags.end(), run.record.flags.begin(), run.record.flags.end());
            outcome.finished = outcome.finished && run.record.finished;
            ++next;
        }
    }
    if (outcome.finished) outcome.ensemble.spreads = spread_of_flags(flags, members);
    return outcome;
}

}  // namespace bedshade
