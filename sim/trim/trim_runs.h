// Runs that evaluate a plan of cuts: by members, side by side, each ended once its trouble is
// known where only that is asked.
#pragma once

#include <cstdint>
#include <map>
#include <optional>
#include <string>
#include <vector>

#include "sim/advice/run_budget.h"
#include "sim/trim/cuts.h"
#include "sim/verdict/flag.h"

namespace bedshade {

/// One run of one member under a plan.
struct TrimRun {
    int member = 0;
    std::vector<Flag> flags;
    std::optional<Flag> unprevented;  ///< the first that the plan answers for
    std::vector<CutDone> cuts;        ///< those it came to
};

/// Members of one tank, as sampled by one seed.
class TrimMembers {
  public:
    /// Keeps references, which must outlive it. `output_scale` multiplies every lamp.
    TrimMembers(const Layout& layout, std::uint64_t seed, double output_scale, RunBudget& work);

    enum class Until { first_flag, horizon };
    /// These members under a plan. One that comes to a flag which is first_flag only if the plan
    /// brought it about is run without cuts too, to know.
    std::vector<TrimRun> run(const std::vector<Cut>& cuts, const std::vector<int>& members,
                             Until until);

    const Layout& layout() const { return layout_; }

  private:
    /// These members without cuts, to the end; run where they have not been.
    std::vector<TrimRun> uncut(const std::vector<int>& members);
    std::vector<TrimRun> run_as(const Layout& layout, const std::string& how,
                                const std::vector<int>& members, Until until);
    TrimRun run_member(const Layout& layout, int member, Until until, const GoOn& go_on) const;

    const Layout& layout_;
    std::uint64_t seed_;
    double output_scale_;
    RunBudget& work_;
    std::map<int, TrimRun> uncut_;  // by member
};

}  // namespace bedshade
