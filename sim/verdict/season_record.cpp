#include "sim/verdict/season_record.h"

#include "sim/verdict/chronicle.h"
#include "sim/verdict/watch.h"

namespace bedshade {

SeasonRecord record_season(const Layout& layout, Forecast& forecast, int member, const GoOn& go_on,
                           const std::vector<FrameSink*>& also) {
    Watch watch(layout, member);
    Chronicle chronicle(layout, member);
    std::vector<FrameSink*> sinks = {&watch, &chronicle};
    sinks.insert(sinks.end(), also.begin(), also.end());
    const bool finished = forecast.run(sinks, go_on);
    return {finished, watch.flags(), chronicle.events()};
}

}  // namespace bedshade
