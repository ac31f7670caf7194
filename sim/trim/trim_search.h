// The search for the fewest and latest cuts that keep the bed out of trouble.
#pragma once

#include <functional>
#include <map>
#include <optional>
#include <set>
#include <vector>

#include "sim/trim/trim_runs.h"

namespace bedshade {

struct TrimAim {
    double confidence = 0.9;  ///< share of runs to be kept out of trouble
    double smallest = 0.5;    ///< least a cut leaves, as a share of the diameter a coral was set at
};

/// What a plan does for the members it was found with.
struct TrimPlan {
    std::vector<Cut> cuts;
    std::vector<double> widest_m;     ///< by cut: the widest that any member's coral was before
    std::map<int, Flag> unprevented;  ///< that it does not keep away, by member
    int members = 0;                  ///< it was found with
    bool reached = false;             ///< few enough of them, and not the first member
};

/// Finds a plan with members from 0 on, the first of which is the best estimate and is always to be
/// kept out of trouble. `reserve` forecasts' work is left for others.
///
/// The plan so far, at first no cuts, is tried on members that it has not met, a round at a time.
/// Those that come to trouble join those it is held to, it is mended for them, and tried on the
/// next, until `most_members` or the work are used up.
///
/// To mend it, each cut is put as late as it can be and as deep as is allowed, which puts the next
/// trouble off the longest and so needs the fewest; then cuts that are not needed are dropped, and
/// the rest made gentler by half of what does no harm.
///
/// Plans look better for the members they were picked with than for others: among all it has met,
/// so few may be left in trouble that the 90 % interval of the share kept out of it lies above the
/// aim, or none where they are too few for that.
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
    bool meet(int count, TrimPlan& plan);
    void mend(TrimPlan& plan);
    TrimPlan judged(std::vector<Cut> cuts, std::size_t most_flagged);
    void settle(TrimPlan& plan) const;

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
    int met_ = 0;               // members from 0 on
    std::vector<int> held_to_;  // those that came to trouble; they that fell back last come first
    std::set<int> given_up_;    // those that no cut was found to save
};

}  // namespace bedshade
