#include "sim/verdict/judged_season.h"

#include "sim/season/member_draw.h"
#include "sim/verdict/watch.h"

namespace bedshade {

JudgedSeason judge_season(const Layout& layout, const ForecastOptions& options,
                          const ParallelFor& parallel, const std::function<bool(double)>& go_on,
                          const std::vector<FrameSink*>& also) {
    Forecast forecast(layout, options, parallel);
    Watch watch(layout, options.member);
    MarginWatch margins(layout);
    SeasonMeans means;
    std::vector<FrameSink*> sinks = {&watch, &margins, &means};
    sinks.insert(sinks.end(), also.begin(), also.end());
    JudgedSeason judged;
    judged.finished = forecast.run(sinks, go_on);
    judged.flags = watch.flags();
    judged.margins = margins.margins();
    judged.colonies = means.colonies();
    return judged;
}

JudgedSeason judge_member(const Layout& layout, ForecastOptions options,
                          const ParallelFor& parallel, const std::function<bool(double)>& go_on) {
    const MemberDraw draw =
        draw_member(layout, options.seed, static_cast<std::uint32_t>(options.member));
    options.output_scale *= draw.output_factor;
    return judge_season(draw.layout, options, parallel, go_on);
}

}  // namespace bedshade
