// The margins of each colony over a run: the one measure that placing, trimming, arranging and
// ranking use.
#pragma once

#include <limits>
#include <vector>

#include "model/growth/surroundings.h"

#include "sim/run/snapshot.h"
#include "sim/verdict/window_mean.h"

namespace bedshade {

inline constexpr double kNoLimit = std::numeric_limits<double>::infinity();
/// A margin that must be finite is clamped to this, either way.
inline constexpr double kMostReported = 20.0;

/// ln of available over needed; infinite if nothing is needed.
double log_ratio(double there_is, double needed);

/// A value at its worst, and when that was.
struct Worst {
    double value = kNoLimit;
    double day_d = 0.0;

    bool operator==(const Worst&) const = default;
    void note(double seen, double on_d) {
        if (seen < value) *this = {seen, on_d};
    }
};

/// What a colony's worst margin is about.
enum class MarginKind { light, sand, reach, flow };
const char* to_string(MarginKind kind);

/// Every margin is negative where the limit was passed, and infinite where there is none. The
/// logarithms are natural: 0.1 is 10 % to spare, 0.7 twice what is needed.
struct Margins {
    Worst light;         ///< ln of the 30-day mean of daily light over that of its need
    Worst sand;          ///< ln of the smothering load over the sand on it
    Worst reach_m;       ///< room to the nearest neighbour beyond the farther of the two reaches
    int neighbour = -1;  ///< the one that `reach_m` is about
    Worst flow;  ///< ln of speed over the lowest it keeps in, or of the highest over the speed

    bool operator==(const Margins&) const = default;
};

/// Room counts against the other margins as if so much of it were a margin of 1. A judgement, no
/// source: five centimetres between two corals are about as much to spare as a factor of e.
inline constexpr double kRoomOfOne_m = 0.05;

/// The worst of the four on one scale, and which it is.
struct WorstMargin {
    double value = kNoLimit;
    MarginKind kind = MarginKind::light;
    double day_d = 0.0;
};
WorstMargin worst_of(const Margins& margins);

/// Tracks the margins of every colony during a run. A colony's margins are those of the
/// days it is in the tank and alive; one that died has a worst margin that shows it.
class MarginTracker final : public SnapshotSink {
  public:
    /// Keeps a reference to `layout`, which must outlive it.
    explicit MarginTracker(const Layout& layout);

    void take(const Snapshot& snapshot) override;

    /// By colony, in the layout's order; those of the days taken so far.
    const std::vector<Margins>& margins() const { return margins_; }

  private:
    void note_light(const Snapshot& snapshot, std::size_t colony);
    void note_sand_and_flow(const Snapshot& snapshot, std::size_t colony);

    const Layout& layout_;
    Surroundings around_;
    std::vector<WindowMean> light_, need_;  // by colony
    std::vector<Margins> margins_;
};

}  // namespace bedshade
