// Watches the snapshots of one run and raises flags: what goes wrong, for which colony, from which
// month on, and because of whom.
#pragma once

#include <optional>
#include <vector>

#include "sim/base/flag.h"
#include "sim/run/checkpoint.h"
#include "sim/run/snapshot.h"
#include "sim/verdict/window_mean.h"

namespace bedshade {

/// Each kind of flag is raised at most once for a colony, at the first moment its condition holds.
/// Carbon is interpolated linearly between two snapshots, so that moment does not depend on the
/// step.
class FlagDetector final : public SnapshotSink {
  public:
    /// `member` is written into the flags. Flags that a checkpoint has (may be null) are not raised
    /// again.
    explicit FlagDetector(const Layout& layout, int member = 0,
                          const Checkpoint* checkpoint = nullptr);

    void take(const Snapshot& snapshot) override;

    /// Adds what a run that continues needs to raise no flag twice and none late.
    void store(Checkpoint& checkpoint) const;

    /// Flags in order of day, then colony. "Fast plate starves the bed" needs no sorting first
    /// here: the report does that.
    const std::vector<Flag>& flags() const { return flags_; }

  private:
    /// Carbon of one colony over the last 30 days.
    struct Carbon {
        WindowMean net, baseline, uninhibited;
        double last_day_d = 0.0;
        std::optional<double> last_mean;  // of net
        Carbon();
    };
    struct Means;

    void restore(std::size_t colony, double day_d, const ColonyCheckpoint& checkpoint);
    void note_carbon(const Snapshot& snapshot, std::size_t colony);
    void judge_carbon(const Snapshot& snapshot, std::size_t colony, double day_d,
                      const Means& means);
    void judge_losses(const Snapshot& snapshot, std::size_t colony);
    void judge_flow(const Snapshot& snapshot, std::size_t colony);
    void judge_size(const Snapshot& snapshot, std::size_t colony);
    void judge_fall(const Fall& fall, double day_d);
    void note_places(const Snapshot& snapshot);
    void judge_place(const Snapshot& snapshot, std::size_t colony);
    Flag& raise(FlagKind kind, std::size_t colony, double day_d);
    bool lives_on_light(std::size_t colony) const;
    bool raised(FlagKind kind, std::size_t colony) const;
    static void attribute_to_infauna(Flag& flag, const Irritation& by);
    void attribute_light(Flag& flag, const Snapshot& snapshot) const;

    const Layout& layout_;
    int member_;
    std::vector<Carbon> carbon_;                               // by colony
    std::vector<double> too_slow_since_d_, too_fast_since_d_;  // by colony; negative: not now
    std::vector<std::optional<Vec3>> home_m_;                  // by colony: where it was put last
    std::vector<unsigned> raised_;                             // by colony, a bit for each kind
    std::vector<Flag> flags_;
};

/// Whether a flag is what the program exists for: a fast plate or table that starves the bed below.
bool plate_starves_bed(const Flag& flag, const Layout& layout);

}  // namespace bedshade
