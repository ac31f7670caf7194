#include "sim/trim/trim.h"

#include <algorithm>
#include <map>
#include <numeric>
#include <utility>

#include "sim/trim/cut_flags.h"

namespace bedshade {
namespace {

std::vector<int> counted_from(int first, int count) {
    std::vector<int> members(static_cast<std::size_t>(count));
    std::iota(members.begin(), members.end(), first);
    return members;
}

std::vector<LeftAlone> left_alone_in(const Layout& layout, const TrimArm& without,
                                     const TrimArm& planned) {
    std::map<std::pair<int, FlagKind>, LeftAlone> found;
    const auto count = [&](const TrimArm& arm, int LeftAlone::*runs) {
        for (std::size_t i = 0; i < arm.runs.size(); ++i)
            for (const Flag& flag : left_alone(layout, arm.runs[i].flags, without.runs[i].flags)) {
                LeftAlone& left = found[{flag.colony, flag.kind}];
                if (left.without + left.planned == 0) left.flag = flag;
                ++(left.*runs);
            }
    };
    count(without, &LeftAlone::without);
    count(planned, &LeftAlone::planned);
    std::vector<LeftAlone> all;
    all.reserve(found.size());
    for (const auto& [key, left] : found) all.push_back(left);
    return all;
}

/// Member 0 is the same under every seed, so that fresh ones are counted from 1.
void compare_on_fresh(const Layout& layout, const TrimOptions& options, RunBudget& work,
                      TrimAdvice& advice) {
    TrimMembers fresh(layout,
                      {options.seed + 1, 0, options.output_scale, false, options.checkpoint}, work);
    const auto members = counted_from(1, options.fresh);
    const auto run = [&](const std::vector<Cut>& cuts) {
        return work.stopped() ? std::vector<TrimRun>{}
                              : fresh.run(cuts, members, TrimMembers::Until::horizon);
    };
    advice.no_cuts.runs = run({});
    advice.planned.runs = run(advice.plan.cuts);
    advice.quarterly.runs = run(quarterly_cuts(layout));
    advice.left_alone = left_alone_in(layout, advice.no_cuts, advice.planned);
}

}  // namespace

int TrimArm::clear() const {
    return static_cast<int>(std::count_if(runs.begin(), runs.end(),
                                          [](const TrimRun& run) { return !run.unprevented; }));
}

int TrimArm::unflagged(const Layout& layout) const {
    return static_cast<int>(std::count_if(runs.begin(), runs.end(), [&](const TrimRun& run) {
        return std::none_of(run.flags.begin(), run.flags.end(), [&](const Flag& flag) {
            return layout.colonies[static_cast<std::size_t>(flag.colony)].on_bed();
        });
    }));
}

double TrimArm::mean_cuts() const {
    double cuts = 0.0;
    for (const TrimRun& run : runs)
        for (const CutDone& done : run.cuts) cuts += done.cut_m2 > 0.0 ? 1.0 : 0.0;
    return runs.empty() ? 0.0 : cuts / static_cast<double>(runs.size());
}

double TrimArm::mean_cut_m2() const {
    double area_m2 = 0.0;
    for (const TrimRun& run : runs)
        for (const CutDone& done : run.cuts) area_m2 += done.cut_m2;
    return runs.empty() ? 0.0 : area_m2 / static_cast<double>(runs.size());
}

double work_of_comparison(const TrimOptions& options) {
    constexpr double kBestEstimate = 2.0;  // with the plan, and without to attribute the flags
    return 3.0 * options.fresh + kBestEstimate;
}

TrimAdvice advise_cuts(const Layout& layout, const TrimOptions& options, RunBudget& work) {
    TrimAdvice advice;
    TrimMembers members(layout, {options.seed, 0, options.output_scale, false, options.checkpoint},
                        work);
    advice.plan =
        TrimSearch(members, options.aim, options.members, work, work_of_comparison(options)).find();
    if (!work.stopped())
        advice.best_estimate =
            members.run(advice.plan.cuts, {0}, TrimMembers::Until::horizon).front();
    if (!work.stopped()) compare_on_fresh(layout, options, work, advice);
    advice.work = work.done();
    advice.finished = !work.stopped();
    return advice;
}

}  // namespace bedshade
