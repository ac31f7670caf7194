#include "sim/trim/trim_runs.h"

#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include "sim/run/forecast.h"
#include "sim/run/member_sample.h"
#include "sim/trim/cut_flags.h"
#include "sim/trim/trim_run_json.h"
#include "sim/verdict/flag_detector.h"

namespace bedshade {
namespace {

/// Records the cuts made.
class AppliedCuts final : public SnapshotSink {
  public:
    void take(const Snapshot& snapshot) override {
        for (const AppliedAction& done : snapshot.reef.applied_actions)
            if (done.kind == ActionKind::trim)
                cuts.push_back(
                    {done.colony, snapshot.day_d, done.before_m, done.after_m, done.cut_m2});
    }
    std::vector<CutDone> cuts;
};

std::string text_of(const std::vector<Cut>& cuts) {
    std::string text;
    for (const Cut& cut : cuts) text += fmt::format(" {}@{}>{}", cut.colony, cut.day_d, cut.to_m);
    return text;
}

}  // namespace

TrimMembers::TrimMembers(const Layout& layout, const RunOptions& options, RunBudget& work)
    : layout_(layout), options_(options), work_(work) {}

std::vector<TrimRun> TrimMembers::uncut(const std::vector<int>& members) {
    std::vector<int> unknown;
    for (const int member : members)
        if (uncut_.count(member) == 0) unknown.push_back(member);
    for (TrimRun& run : run_as(layout_, "uncut", unknown, Until::horizon)) {
        run.unprevented = first_counted_flag(layout_, run.flags, run.flags);
        uncut_[run.member] = std::move(run);
    }
    std::vector<TrimRun> runs;
    runs.reserve(members.size());
    for (const int member : members) runs.push_back(uncut_[member]);
    return runs;
}

std::vector<TrimRun> TrimMembers::run(const std::vector<Cut>& cuts, const std::vector<int>& members,
                                      Until until) {
    if (cuts.empty()) return uncut(members);
    std::vector<TrimRun> runs =
        run_as(with_cuts(layout_, cuts), "cut" + text_of(cuts), members, until);
    std::vector<int> undecided;
    for (const TrimRun& run : runs)
        if (!first_counted_flag(layout_, run.flags, run.flags) &&
            depends_on_run_without_cuts(layout_, run.flags))
            undecided.push_back(run.member);
    uncut(undecided);
    for (TrimRun& run : runs) {
        const auto without = uncut_.find(run.member);
        run.unprevented = first_counted_flag(
            layout_, run.flags, without == uncut_.end() ? run.flags : without->second.flags);
    }
    return runs;
}

std::vector<TrimRun> TrimMembers::run_as(const Layout& layout, const std::string& how,
                                         const std::vector<int>& members, Until until) {
    std::vector<TrimRun> runs(members.size());
    work_.run(members.size(), [&](std::size_t i, const GoOn& go_on) {
        const std::string called = fmt::format(
            "trim, member {} of seed {}, lamps times {}, {}, to the {}", members[i], options_.seed,
            options_.output_scale, how, until == Until::first_flag ? "trouble" : "end");
        runs[i] = trim_run_of(work_.cache().recall(called, go_on, [&](const GoOn& on) {
            return json_of(run_member(layout, members[i], until, on));
        }));
    });
    return runs;
}

/// Flags that no cut helps do not end it: the plan may not be their cause.
TrimRun TrimMembers::run_member(const Layout& layout, int member, Until until,
                                const GoOn& go_on) const {
    RunOptions options = options_;
    options.member = member;
    const MemberSample draw = sample_member(layout, options);
    Forecast forecast(draw.layout, options, run_serially);
    FlagDetector detector(draw.layout, member, options.checkpoint.get());
    AppliedCuts cuts;
    std::size_t seen = 0;
    bool enough = false;
    const bool finished = forecast.run({&detector, &cuts}, [&](double done) {
        if (until == Until::first_flag && detector.flags().size() != seen) {
            seen = detector.flags().size();
            enough = first_counted_flag(layout, detector.flags(), detector.flags()).has_value();
        }
        return go_on(done) && !enough;
    });
    if (finished) go_on(1.0);
    return {member, detector.flags(), std::nullopt, std::move(cuts.cuts)};
}

}  // namespace bedshade
