// The search for the fewest and latest cuts that keep the bed out of trouble.
#pragma once

#include <functional>
#include <map>
#include <vector>

#include "sim/advice/trim_runs.h"

namespace bedshade {

struct TrimAim {
    double confidence = 0.9;  ///< share of runs to be kept out of trouble
    double smallest = 0.5;    ///< least a cut leaves, as a share of the diameter a coral was set at
};

/// What a plan does for the members it was found with.
struct TrimPlan {
    std::vector<Cut> cuts;
    std::vector<double> widest_m;         ///< by cut: the widest that any member's coral was before
    std::map<std::size_t, Flag> trouble;  ///< that it does not keep away, by place of the member
    bool reached = false;                 ///< few enough of them, and not the first member
};

/// Finds a plan for members that were run without cuts, the first of which is the best estimate and
/// is always to be kept out of trouble. `kept_back` forecasts' work is left for others.
///
/// Each cut is put as late as it can be and as deep as is allowed, which puts the next trouble off
/// the longest and so needs the fewest; then cuts that are not needed are dropped, and the rest put
/// off and made gentler for as long as that does no harm, the last first. A member that needed no
/// cut is taken not to be harmed by one; fresh members show whether that holds.
///
/// Plans look better for the members they were picked with than for others: among these, so few may
/// get into trouble that the 90 % interval of the share kept out of it lies above the aim, or none
/// where they are too few for that.
class TrimSearch {
  public:
    TrimSearch(TrimMembers& members, const TrimAim& aim, Workload& work, double kept_back);

    /// Cuts come in order of their days.
    TrimPlan find();

  private:
    struct Wanted {
        std::size_t place;
        Flag flag;
    };
    using Change = std::function<void(std::vector<Cut>&)>;

    std::size_t allowed() const;
    bool has_room() const { return work_.allows(troubled_.size(), kept_back_); }
    TrimPlan judged(std::vector<Cut> cuts, std::size_t most_trouble);
    void note(const TrimRun& run, std::size_t place, TrimPlan& plan);
    TrimPlan without_cuts();

    std::vector<Wanted> most_wanted(const TrimPlan& plan) const;
    Wanted deadline(const TrimPlan& plan, std::vector<Wanted> wanted) const;
    bool take_next_cut(TrimPlan& plan);
    bool bring_forward(std::vector<Cut>& cuts, int colony, const Wanted& wanted);

    bool try_change(TrimPlan& plan, const Change& change);
    void drop_spare_cuts(TrimPlan& plan);
    void put_off(TrimPlan& plan, std::size_t cut);
    void make_gentler(TrimPlan& plan, std::size_t cut);
    double smallest_m(int colony) const;

    TrimMembers& members_;
    TrimAim aim_;
    Workload& work_;
    double kept_back_;
    std::vector<std::size_t> troubled_;  // places of members in trouble without cuts; those that
                                         // fell back into it last come first
    std::map<std::size_t, int> brought_forward_;  // cuts brought forward in vain, by place
};

}  // namespace bedshade
