// Runs that evaluate a plan of cuts, member by member in parallel; each may end at its first
// preventable flag.
#pragma once

#include <cstdint>
#include <map>
#include <optional>
#include <string>
#include <vector>

#include "sim/advice/cuts.h"
#include "sim/advice/run_budget.h"
#include "sim/base/flag.h"

namespace bedshade {

/// One run of one member under a plan.
struct TrimRun {
    int member = 0;
    std::vector<Flag> flags;
    std::optional<Flag> unprevented;  ///< the first that counts against the plan
    std::vector<CutDone> cuts;        ///< those made before its end
};

/// Members of one tank, as sampled by one seed.
class TrimMembers {
  public:
    /// Keeps references, which must outlive it. The member of `options` does not matter.
    TrimMembers(const Layout& layout, const RunOptions& options, RunBudget& work);

    enum class Until { first_flag, horizon };
    /// These members under a plan. If a flag counts only when the plan caused it, the member is
    /// also run without cuts.
    std::vector<TrimRun> run(const std::vector<Cut>& cuts, const std::vector<int>& members,
                             Until until);

    const Layout& layout() const { return layout_; }

  private:
    /// These members without cuts, to the end; run unless already known.
    std::vector<TrimRun> uncut(const std::vector<int>& members);
    std::vector<TrimRun> run_as(const Layout& layout, const std::string& how,
                                const std::vector<int>& members, Until until);
    TrimRun run_member(const Layout& layout, int member, Until until, const GoOn& go_on) const;

    const Layout& layout_;
    RunOptions options_;
    RunBudget& work_;
    std::map<int, TrimRun> uncut_;  // by member
};

}  // namespace bedshade
