// A run as one score: the worst margin of every colony, and the neighbour that causes it.
#pragma once

#include <vector>

#include "sim/run/forecast.h"
#include "sim/verdict/evaluated_run.h"

namespace bedshade {

/// The margins of a layout over its run.
struct Score {
    std::vector<WorstMargin> colonies;
    std::vector<int> cause_of;  ///< by colony: who shades or reaches it most at its worst, or -1
    std::vector<double> end_diameter_m;  ///< by colony
    int worst = -1;  ///< the colony with the worst margin; -1 if none has a limit

    double value() const {
        return worst < 0 ? kNoLimit : colonies[static_cast<std::size_t>(worst)].value;
    }
};

/// The score of the member that `options` names; of the days it had, where `go_on` stopped it.
Score run_score(const Layout& layout, const RunOptions& options, const ParallelFor& parallel,
                const GoOn& go_on);

}  // namespace bedshade
