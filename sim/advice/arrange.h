// Moving corals among the spots they could stand at, so that the one worst off is better off.
#pragma once

#include <cstdint>
#include <vector>

#include "sim/advice/season_score.h"
#include "sim/advice/standing_spots.h"
#include "sim/advice/workload.h"

namespace bedshade {

struct ArrangeOptions {
    std::uint64_t seed = 1;     ///< of the search and its season; the next is the fresh members'
    double output_scale = 1.0;  ///< multiplies every lamp
    std::vector<int> movable;   ///< colonies that may be moved
    int forecasts = 60;         ///< for the search, and again for placing at random
    int fresh = 12;             ///< members on which the winner is scored again
};

struct Moved {
    int colony = 0;
    StandingSpot from, to;
};

/// The layout as given and as arranged, side by side.
struct ScorePair {
    Score given, arranged;
};

struct ArrangeAdvice {
    bool finished = false;  ///< not stopped; nothing else holds where it was
    Layout arranged;
    std::vector<Moved> moved;
    ScorePair best_estimate;
    std::vector<double> at_random;  ///< worst margins of layouts set down by lot
    std::vector<ScorePair> fresh;   ///< by member
    ScorePair fine;                 ///< the best estimate with the season's step halved
    int searched = 0;               ///< forecasts the search took
    double work = 0.0;              ///< of all, in forecasts
};

/// Forecasts that all of it takes at most.
double work_of_arranging(const ArrangeOptions& options);

/// The coral worst off is set at one spot after another by a global search of the floor (DIRECT-L;
/// Gablonsky & Kelley 2001, by NLopt) until another is worse off, then that one, and so on. Where
/// no spot helps, the neighbour that is to blame is moved; where that does not help either, the
/// coral is let be, no worse than it was, and the next worst off has its turn. Then as many
/// forecasts of all that may be moved set down by lot, and the winner on fresh members and with
/// finer steps. `parallel` serves the search's forecasts, which run one after another.
ArrangeAdvice arrange(const Layout& layout, const ArrangeOptions& options,
                      const ParallelFor& parallel, Workload& work);

}  // namespace bedshade
