#include "sim/verdict/run_record.h"

#include "sim/verdict/event_log.h"
#include "sim/verdict/flag_detector.h"

namespace bedshade {

RunRecord record_run(const Layout& layout, Forecast& forecast, int member, const GoOn& go_on,
                     const std::vector<SnapshotSink*>& also) {
    FlagDetector detector(layout, member);
    EventLog event_log(layout, member);
    std::vector<SnapshotSink*> sinks = {&detector, &event_log};
    sinks.insert(sinks.end(), also.begin(), also.end());
    const bool finished = forecast.run(sinks, go_on);
    return {finished, detector.flags(), event_log.events()};
}

}  // namespace bedshade
