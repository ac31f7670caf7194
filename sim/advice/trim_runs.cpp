#include "sim/advice/trim_runs.h"

#include "sim/advice/cut_flags.h"
#include "sim/season/forecast.h"
#include "sim/season/member_draw.h"
#include "sim/verdict/watch.h"

namespace bedshade {
namespace {

/// Notes what came of the cuts.
class CutWatch final : public FrameSink {
  public:
    void take(const Frame& frame) override {
        for (const DoneDeed& done : frame.deeds)
            if (done.deed == Deed::trim)
                cuts.push_back(
                    {done.colony, frame.day_d, done.before_m, done.after_m, done.cut_m2});
    }
    std::vector<CutDone> cuts;
};

}  // namespace

TrimMembers::TrimMembers(const Layout& layout, std::uint64_t seed, double output_scale,
                         Workload& work)
    : layout_(layout), seed_(seed), output_scale_(output_scale), work_(work) {}

const std::vector<TrimRun>& TrimMembers::run_without_cuts(const std::vector<int>& members) {
    without_.assign(members.size(), {});
    work_.run(members.size(), [&](std::size_t i, const std::function<bool(double)>& go_on) {
        without_[i] = season(layout_, members[i], nullptr, Until::horizon, go_on);
    });
    return without_;
}

std::vector<TrimRun> TrimMembers::run(const std::vector<Cut>& cuts,
                                      const std::vector<std::size_t>& which, Until until) {
    const Layout layout = with_cuts(layout_, cuts);
    std::vector<TrimRun> runs(which.size());
    work_.run(which.size(), [&](std::size_t i, const std::function<bool(double)>& go_on) {
        const TrimRun& without = without_[which[i]];
        runs[i] = season(layout, without.member, &without.flags, until, go_on);
    });
    return runs;
}

TrimRun TrimMembers::season(const Layout& layout, int member, const std::vector<Flag>* without,
                            Until until, const std::function<bool(double)>& go_on) const {
    ForecastOptions options{seed_, member, output_scale_};
    const MemberDraw draw = draw_member(layout, options);
    Forecast forecast(draw.layout, options, run_serially);
    Watch watch(draw.layout, member);
    CutWatch cuts;
    std::size_t seen = 0;
    std::optional<Flag> trouble;
    const auto judge = [&] {
        if (trouble || watch.flags().size() == seen) return;
        seen = watch.flags().size();
        trouble = first_to_answer_for(layout, watch.flags(),
                                      without == nullptr ? watch.flags() : *without);
    };
    const bool finished = forecast.run({&watch, &cuts}, [&](double done) {
        judge();
        return go_on(done) && !(trouble && until == Until::trouble);
    });
    judge();
    if (finished) go_on(1.0);
    return {member, watch.flags(), trouble, std::move(cuts.cuts)};
}

}  // namespace bedshade
