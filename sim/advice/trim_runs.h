// Seasons run to judge a plan of cuts: by members, side by side, each ended once its trouble is
// known where only that is asked.
#pragma once

#include <cstdint>
#include <optional>
#include <vector>

#include "sim/advice/cuts.h"
#include "sim/advice/workload.h"
#include "sim/verdict/flag.h"

namespace bedshade {

/// One season of one member under a plan.
struct TrimRun {
    int member = 0;
    std::vector<Flag> flags;
    std::optional<Flag> trouble;  ///< the first that the plan answers for
    std::vector<CutDone> cuts;    ///< those it came to
};

/// Members of one tank, as drawn by one seed, and how each fares without cuts.
class TrimMembers {
  public:
    /// Keeps references, which must outlive it. `output_scale` multiplies every lamp.
    TrimMembers(const Layout& layout, std::uint64_t seed, double output_scale, Workload& work);

    /// Runs these members without cuts, to the end. Their flags are what plans are held to.
    const std::vector<TrimRun>& run_without_cuts(const std::vector<int>& members);
    const std::vector<TrimRun>& without_cuts() const { return without_; }

    enum class Until { trouble, horizon };
    /// Runs some of those members, by their places in that list, under a plan.
    std::vector<TrimRun> run(const std::vector<Cut>& cuts, const std::vector<std::size_t>& which,
                             Until until);

    const Layout& layout() const { return layout_; }

  private:
    TrimRun season(const Layout& layout, int member, const std::vector<Flag>* without, Until until,
                   const std::function<bool(double)>& go_on) const;

    const Layout& layout_;
    std::uint64_t seed_;
    double output_scale_;
    Workload& work_;
    std::vector<TrimRun> without_;
};

}  // namespace bedshade
