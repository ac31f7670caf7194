// Moves corals among possible sites to improve the worst margin of any coral.
#pragma once

#include <cstdint>
#include <vector>

#include "sim/advice/run_budget.h"
#include "sim/advice/run_score.h"
#include "sim/advice/standing_sites.h"

namespace bedshade {

/// Mean and 90 % interval of the fresh members' differences, arranged less given, of which there
/// are at least two (paired t; Student 1908); margins count as no more than 20 either way.
struct PairedGain {
    double mean = 0.0, low = 0.0, high = 0.0;
};

struct ArrangeOptions {
    std::uint64_t seed = 1;     ///< of the search and its run; the next is the fresh members'
    double output_scale = 1.0;  ///< multiplies every lamp
    std::vector<int> movable;   ///< colonies that may be moved
    int forecasts = 60;         ///< for the search, and again for placing at random
    int fresh = 12;             ///< members on which the winner is scored again
};

struct Moved {
    int colony = 0;
    StandingSite from, to;
};

/// What limits the worst margin.
struct HeldBack {
    int colony = -1;  ///< with the worst margin as arranged; -1: none
    int tries = 0;    ///< sites tried without success, for it and for its neighbour
};

/// The layout as given and as arranged, side by side.
struct ScorePair {
    Score given, arranged;
};

struct ArrangeAdvice {
    bool finished = false;  ///< not stopped; the other fields are valid only then
    Layout arranged;
    std::vector<Moved> moved;
    HeldBack held_back;
    ScorePair best_estimate;
    std::vector<double> at_random;  ///< worst margins of layouts placed at random
    std::vector<ScorePair> fresh;   ///< by member
    ScorePair fine;                 ///< the best estimate with the run's step halved
    int searched = 0;               ///< forecasts the search took
    double work = 0.0;              ///< of all, in forecasts
};

PairedGain paired_gain(const std::vector<ScorePair>& pairs);

/// Forecasts that all of it takes at most.
double work_of_arranging(const ArrangeOptions& options);

/// The coral with the worst margin is tried at the most promising sites, as estimated from one run
/// without it; if none helps, at others by a global search of the floor (DIRECT-L; Gablonsky &
/// Kelley 2001, by NLopt). A move is accepted if three other members of the search's seed are on
/// average no worse off. Then the next worst coral, and so on. If no site helps, the neighbour that
/// causes the limit is moved; if that does not help either, the coral stays where it is. Then as
/// many random layouts are run for comparison, and the result is scored again on fresh members and
/// with finer steps. `parallel` serves the search's forecasts, which run one after another.
ArrangeAdvice arrange(const Layout& layout, const ArrangeOptions& options,
                      const ParallelFor& parallel, RunBudget& work);

}  // namespace bedshade
