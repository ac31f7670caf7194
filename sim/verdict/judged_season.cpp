#include "sim/verdict/judged_season.h"

#include "sim/season/member_draw.h"

namespace bedshade {

JudgedSeason judge_season(const Layout& layout, const ForecastOptions& options,
                          const ParallelFor& parallel, const GoOn& go_on,
                          const std::vector<FrameSink*>& also) {
    Forecast forecast(layout, options, parallel);
    MarginWatch margins(layout);
    SeasonMeans means;
    std::vector<FrameSink*> sinks = {&margins, &means};
    sinks.insert(sinks.end(), also.begin(), also.end());
    return {record_season(layout, forecast, options.member, go_on, sinks), margins.margins(),
            means.colonies()};
}

JudgedSeason judge_member(const Layout& layout, ForecastOptions options,
                          const ParallelFor& parallel, const GoOn& go_on,
                          const std::vector<FrameSink*>& also) {
    const MemberDraw draw = draw_member(layout, options);
    return judge_season(draw.layout, options, parallel, go_on, also);
}

}  // namespace bedshade
