// Finds a plan of cuts for the bed, and tests it on members that were not used to choose it.
#pragma once

#include <cstdint>
#include <vector>

#include "sim/trim/trim_search.h"
#include "sim/verdict/ensemble.h"

namespace bedshade {

struct TrimOptions {
    std::uint64_t seed = 1;  ///< of the members a plan is found with; the next is the fresh ones'
    double output_scale = 1.0;                               ///< multiplies every lamp
    std::shared_ptr<const Checkpoint> checkpoint = nullptr;  ///< to continue from; null: day 0
    int members = 56;  ///< that a plan is found with at most, the best estimate first
    int fresh = 24;    ///< that it is then tried on
    TrimAim aim;
};

/// The fresh members under one way of cutting.
struct TrimArm {
    std::vector<TrimRun> runs;

    /// Runs without flags that count against the plan.
    int clear() const;
    /// Runs without any flag on the bed.
    int unflagged(const Layout& layout) const;
    /// Means over the runs: cuts at which something came off, and the planar area that did [m2].
    double mean_cuts() const;
    double mean_cut_m2() const;
};

/// A flag on the bed that no plan answers for, and in how many fresh runs it was raised.
struct LeftAlone {
    Flag flag;  ///< the first of them
    int without = 0, planned = 0;
};

struct TrimAdvice {
    bool finished = false;  ///< not stopped; the other fields are valid only then
    TrimPlan plan;
    TrimRun best_estimate;              ///< under the plan, to the horizon
    std::vector<LeftAlone> left_alone;  ///< by colony, then kind
    TrimArm no_cuts, planned, quarterly;
    double work = 0.0;  ///< in forecasts
};

/// Forecasts' work that the comparison on fresh members takes.
double work_of_comparison(const TrimOptions& options);

/// Finds the fewest and latest cuts and tries them on fresh members. `work` bounds it all; flow is
/// taken from the process's store, best solved before. `layout` must outlive nothing.
TrimAdvice advise_cuts(const Layout& layout, const TrimOptions& options, RunBudget& work);

}  // namespace bedshade
