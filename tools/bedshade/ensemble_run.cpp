#include "tools/bedshade/ensemble_run.h"

#include <fmt/format.h>

#include "sim/season/member_draw.h"
#include "sim/verdict/chronicle.h"
#include "sim/verdict/watch.h"

#include "tools/bedshade/interrupt.h"
#include "tools/bedshade/terminal.h"

namespace bedshade {
namespace {

/// Hands one member's frames to the file of all.
class MemberFrames final : public FrameSink {
  public:
    MemberFrames(TrajectoryWriter& writer, int member) : writer_(writer), member_(member) {}
    void take(const Frame& frame) override { writer_.take(member_, frame); }

  private:
    TrajectoryWriter& writer_;
    int member_;
};

void note_scores(const MemberDraw& draw, EnsembleOutcome& outcome) {
    auto& scores = outcome.scores.emplace_back();
    for (const Drawn& drawn : draw.drawn) scores.push_back(drawn.score);
}

/// Runs a member to its end and adds its flags; false when interrupted.
bool run_member(const MemberDraw& draw, ForecastOptions options, const ParallelFor& parallel,
                const std::function<bool(double)>& go_on, TrajectoryWriter* trajectory,
                std::vector<Flag>& flags) {
    options.output_scale *= draw.output_factor;
    Forecast forecast(draw.layout, options, parallel);
    Watch watch(draw.layout, options.member);
    Chronicle chronicle(draw.layout, options.member);
    std::vector<FrameSink*> sinks = {&watch, &chronicle};
    std::optional<MemberFrames> frames;
    if (trajectory != nullptr) sinks.push_back(&frames.emplace(*trajectory, options.member));
    const bool finished = forecast.run(sinks, go_on);
    flags.insert(flags.end(), watch.flags().begin(), watch.flags().end());
    if (trajectory == nullptr) return finished;
    trajectory->end_member(options.member);
    for (const Flag& flag : watch.flags()) trajectory->add(flag);
    for (const EventRecord& event : chronicle.events()) trajectory->add(event);
    return finished;
}

}  // namespace

EnsembleOutcome run_members(const Layout& layout, const ForecastOptions& options, int members,
                            const std::vector<Flag>& central, const ParallelFor& parallel,
                            const Arguments& arguments, TrajectoryWriter* trajectory) {
    EnsembleOutcome outcome;
    const MemberDraw best = draw_member(layout, options.seed, 0);
    for (const Drawn& drawn : best.drawn) outcome.quantities.push_back(drawn.name);
    note_scores(best, outcome);
    std::vector<Flag> flags = central;
    ProgressBar bar("ensemble", arguments.quiet());
    bool going = true;
    for (int member = 1; member < members && going; ++member) {
        const MemberDraw draw =
            draw_member(layout, options.seed, static_cast<std::uint32_t>(member));
        note_scores(draw, outcome);
        ForecastOptions own = options;
        own.member = member;
        const auto go_on = [&](double done) {
            bar.show((member - 1 + done) / (members - 1),
                     fmt::format("member {} of {}", member + 1, members));
            return !interrupted();
        };
        going = run_member(draw, own, parallel, go_on, trajectory, flags);
    }
    outcome.finished = going;
    if (going) outcome.spreads = spread_of_flags(flags, members);
    return outcome;
}

}  // namespace bedshade
