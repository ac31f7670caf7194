// bedshade rerun: the same run again from the file alone, and whether it comes out the same.
#include <algorithm>
#include <fmt/format.h>
#include <fstream>
#include <iterator>

#include "sim/base/model_version.h"
#include "sim/base/pool.h"
#include "sim/base/text.h"
#include "sim/run/calibration.h"
#include "sim/trajectory/flow_sample.h"
#include "sim/trajectory/run_layout.h"

#include "tools/bedshade/ensemble_run.h"
#include "tools/bedshade/interrupt.h"
#include "tools/bedshade/output_options.h"
#include "tools/bedshade/single_run.h"
#include "tools/bedshade/terminal.h"

namespace bedshade {
namespace {

RunProvenance facts_of(const Trajectory& run) {
    const RunProvenance& facts = run.facts();
    return {facts.seed,    facts.members,     kProgramVersion,
            kModelVersion, facts.layout_text, facts.traits_text};
}

bool same_bytes(const std::string& a, const std::string& b) {
    std::ifstream one(a, std::ios::binary), other(b, std::ios::binary);
    using Bytes = std::istreambuf_iterator<char>;
    return one && other && std::equal(Bytes(one), Bytes(), Bytes(other), Bytes());
}

int report(const std::string& path, const std::string& out, const RunProvenance& before) {
    if (same_bytes(path, out)) {
        fmt::print("{} and {} are the same, byte for byte.\n", escape_control(path),
                   escape_control(out));
        return kDone;
    }
    const bool same_model =
        before.program_version == kProgramVersion && before.model_version == kModelVersion;
    fmt::print("{} and {} differ: {}.\n", escape_control(path), escape_control(out),
               same_model ? std::string("by the same program and model; one of them was made on "
                                        "another kind of processor, or is damaged")
                          : fmt::format("made by bedshade {} (model {}), now run by {} (model {})",
                                        escape_control(before.program_version),
                                        escape_control(before.model_version), kProgramVersion,
                                        kModelVersion));
    return kFailed;
}

/// Writes the run, every member of it; false when interrupted.
bool run_again(const Layout& layout, const std::shared_ptr<const Checkpoint>& checkpoint,
               const RunProvenance& facts, const std::string& out, const Arguments& arguments) {
    const RunOptions options{facts.seed, 0, calibrate(layout).output_scale, false, checkpoint};
    Pool pool(arguments.threads());
    Forecast forecast(layout, options, pool.parallel_for());
    const FlowSample flow = flow_sample(layout.tank, forecast.flow());
    TrajectoryWriter writer(out, layout, forecast.grid(), facts, &flow);
    const Outcome outcome = run_single(layout, options.output_scale, forecast, arguments, &writer);
    const bool finished =
        outcome.finished &&
        run_members(layout, options, facts.members, outcome.summary.flags, pool, arguments, &writer)
            .finished;
    if (finished) writer.finish();
    return finished;
}

int run(const Arguments& arguments) {
    catch_interrupts();
    const std::string& path = arguments.only_word("trajectory file");
    const std::string out = output_needed(arguments, "out");
    const Trajectory trajectory(path);
    if (!trajectory.complete())
        throw UsageError(
            fmt::format("'{}' is unfinished; only a finished run can be run again and compared",
                        escape_control(path)));
    const Layout layout = layout_of(trajectory);
    if (!run_again(layout, checkpoint_of(trajectory), facts_of(trajectory), out, arguments)) {
        print_message("bedshade: interrupted; {}.part holds what was finished\n",
                      escape_control(out));
        return kInterrupted;
    }
    return report(path, out, trajectory.facts());
}

}  // namespace

const Command kRerunCommand = {
    "rerun",
    "RUN.h5 --out AGAIN.h5",
    "repeat a run from its file, and check that the result is the same",
    "A trajectory contains the layout, the traits and the seed it was made from. The exit code is "
    "1 when the new\n"
    "run differs.\n"
    "  bedshade rerun my_tank.h5 --out again.h5",
    [](po::options_description& options) {
        options.add_options()("out", po::value<std::string>()->value_name("AGAIN.h5"),
                              "write the new run there")("force", "replace an existing file");
    },
    run,
    kTakesThreads | kTakesQuiet};

}  // namespace bedshade
