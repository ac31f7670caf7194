#include "sim/verdict/evaluated_run.h"

#include "sim/run/member_sample.h"

namespace bedshade {

EvaluatedRun evaluate_run(const Layout& layout, const RunOptions& options,
                          const ParallelFor& parallel, const GoOn& go_on,
                          const std::vector<SnapshotSink*>& also) {
    Forecast forecast(layout, options, parallel);
    MarginTracker margins(layout);
    RunMeans means;
    std::vector<SnapshotSink*> sinks = {&margins, &means};
    sinks.insert(sinks.end(), also.begin(), also.end());
    return {record_run(layout, forecast, options.member, go_on, sinks), margins.margins(),
            means.colonies()};
}

EvaluatedRun evaluate_member(const Layout& layout, RunOptions options, const ParallelFor& parallel,
                             const GoOn& go_on, const std::vector<SnapshotSink*>& also) {
    const MemberSample draw = sample_member(layout, options);
    return evaluate_run(draw.layout, options, parallel, go_on, also);
}

}  // namespace bedshade
