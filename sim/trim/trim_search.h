// The search for the fewest and latest cuts that keep the bed clear of preventable flags.
#pragma once

#include <functional>
#include <map>
#include <optional>
#include <set>
#include <vector>

#include "sim/trim/trim_runs.h"

namespace bedshade {

struct TrimAim {
    double confidence = 0.9;  ///< fraction of runs to keep clear
    double smallest = 0.5;    ///< least a cut leaves, as a share of the diameter a coral was set at
};

/// What a plan does for the members it was found with.
struct TrimPlan {
    std::vector<Cut> cuts;
    std::vector<double> widest_m;     ///< by cut: the widest that any member's coral was before
    std::map<int, Flag> unprevented;  ///< not prevented by it, by member
    int members = 0;                  ///< it was found with
    bool reached = false;             ///< few enough of them, and none of the first member
};

/// Finds a plan with members from 0 on; member 0, the best estimate, must always stay clear. The
/// work of `reserve` forecasts is left for others.
///
/// The current plan, at first no cuts, is tried on new members in rounds. Members with preventable
/// flags join the constraint set, the plan is improved for them and tried on the next round, until
/// `most_members` or the work are used up.
///
/// To improve it, each cut is placed as late as possible and as deep as allowed, which delays the
/// next flag the longest and so needs the fewest cuts. Then unneeded cuts are dropped, and the rest
/// are made less deep by half of what does no harm.
///
/// A plan does better on the members it was chosen with than on others. So few members may fail
/// that the 90 % interval of the clear fraction is above the aim; none, if there are too few
/// members for that.
class TrimSearch {
  public:
    TrimSearch(TrimMembers& members, const TrimAim& aim, int most_members, RunBudget& work,
               double reserve);

    /// Cuts come in order of their days.
    TrimPlan find();

  private:
    using Change = std::function<void(std::vector<Cut>&)>;

    std::size_t allowed() const;
    bool has_room(std::size_t runs) const;
    int next_round() const;
    bool try_on_new_members(int count, TrimPlan& plan);
    void improve(TrimPlan& plan);
    TrimPlan evaluated(std::vector<Cut> cuts, std::size_t most_flagged);
    void update_result(TrimPlan& plan) const;

    std::vector<int> most_wanted(const TrimPlan& plan) const;
    int most_pressing(const TrimPlan& plan, std::vector<int> wanted) const;
    bool take_next_cut(TrimPlan& plan);
    std::optional<std::vector<Cut>> cuts_that_save(int member, const Flag& unprevented,
                                                   const std::vector<Cut>& cuts);

    bool try_change(TrimPlan& plan, const Change& change);
    void drop_spare_cuts(TrimPlan& plan);
    void make_gentler(TrimPlan& plan, std::size_t cut);
    double smallest_m(int colony) const;

    TrimMembers& members_;
    TrimAim aim_;
    int most_members_;
    RunBudget& work_;
    double reserve_;
    int members_used_ = 0;          // members from 0 on
    std::vector<int> constraints_;  // members that failed; the latest failures first
    std::set<int> given_up_;        // those that no cut saves
};

}  // namespace bedshade
