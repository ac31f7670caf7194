#include "sim/batch/run_one.h"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>
#include <mutex>

#include "sim/base/atomic_file.h"
#include "sim/base/model_version.h"
#include "sim/base/quantile.h"
#include "sim/report/report.h"
#include "sim/run/calibration.h"
#include "sim/run/flow_cache.h"
#include "sim/run/reef_light.h"
#include "sim/trajectory/flow_sample.h"
#include "sim/trajectory/trajectory_writer.h"
#include "sim/verdict/evaluated_run.h"

namespace bedshade {
namespace {

/// HDF5's wrappers are not promised to be safe in several threads; one file is written at a time.
std::mutex& hdf5_turn() {
    static std::mutex mutex;
    return mutex;
}

/// A trajectory written by one of several threads.
class RunFile final : public SnapshotSink {
  public:
    RunFile(std::filesystem::path path, const Layout& layout, const RunProvenance& facts)
        : path_(std::move(path)) {
        const auto flow = process_flow_cache().flow_of(layout, run_serially);
        const FlowSample sample = flow_sample(layout.tank, *flow);
        const std::lock_guard lock(hdf5_turn());
        acquire(part_path(path_));
        writer_.emplace(path_, layout, bed_grid_of(layout.tank), facts, &sample);
    }
    ~RunFile() override {
        const std::lock_guard lock(hdf5_turn());
        writer_.reset();
        std::error_code ignored;
        std::filesystem::remove(part_path(path_), ignored);
    }

    void take(const Snapshot& snapshot) override {
        const std::lock_guard lock(hdf5_turn());
        writer_->take(snapshot);
    }

    void finish(const RunRecord& record) {
        const std::lock_guard lock(hdf5_turn());
        for (const Flag& flag : record.flags) writer_->add(flag);
        for (const EventRecord& event : record.events) writer_->add(event);
        writer_->finish();
    }

  private:
    std::filesystem::path path_;
    std::optional<TrajectoryWriter> writer_;
};

double held(double margin) {
    return std::isnan(margin) ? -kMostMargin : std::clamp(margin, -kMostMargin, kMostMargin);
}

struct MemberResult {
    BedMargins bed;
    double worst = kMostMargin, tank_worst = kMostMargin;
    std::string worst_of;
};

MemberResult result_of(const Layout& layout, const EvaluatedRun& evaluated) {
    MemberResult found;
    for (std::size_t i = 0; i < evaluated.margins.size(); ++i) {
        const Margins& margins = evaluated.margins[i];
        const WorstMargin worst = worst_of(margins);
        found.tank_worst = std::min(found.tank_worst, held(worst.value));
        if (!layout.colonies[i].on_bed()) continue;
        found.bed.light = std::min(found.bed.light, held(margins.light.value));
        found.bed.sand = std::min(found.bed.sand, held(margins.sand.value));
        found.bed.reach = std::min(found.bed.reach, held(margins.reach_m.value / kRoomOfOne_m));
        found.bed.flow = std::min(found.bed.flow, held(margins.flow.value));
        if (held(worst.value) >= found.worst) continue;
        found.worst = held(worst.value);
        found.worst_of = fmt::format("{} of {}", to_string(worst.kind), layout.colonies[i].name);
    }
    return found;
}

/// Flags in their order, by day.
std::string flags_text(const Layout& layout, const std::vector<Flag>& flags) {
    std::string text;
    for (const Flag& flag : flags) {
        const Colony& colony = layout.colonies[static_cast<std::size_t>(flag.colony)];
        text += fmt::format("{}{} of {} in month {}", text.empty() ? "" : "; ",
                            to_string(flag.kind), colony.name, flag.month);
        const std::string culprit = culprit_name(layout, flag);
        if (!culprit.empty()) text += fmt::format(" by {}", culprit);
    }
    return text;
}

/// Gathers the members of a run into its row.
class RowMaker {
  public:
    RowMaker(const Layout& layout, BatchRow& row) : layout_(layout), row_(row) {
        row_.bed = {0.0, 0.0, 0.0, 0.0};
        row_.tank_worst = row_.flags_mean = 0.0;
    }

    void add(const EvaluatedRun& evaluated) {
        const MemberResult found = result_of(layout_, evaluated);
        const double share = 1.0 / row_.members;
        row_.bed.light += share * found.bed.light;
        row_.bed.sand += share * found.bed.sand;
        row_.bed.reach += share * found.bed.reach;
        row_.bed.flow += share * found.bed.flow;
        row_.tank_worst += share * found.tank_worst;
        row_.flags_mean += share * static_cast<double>(evaluated.flags.size());
        row_.members_flagged += evaluated.flags.empty() ? 0 : 1;
        if (worst_.empty()) add_central(found, evaluated);
        worst_.push_back(found.worst);
    }

    void finish() {
        double sum = 0.0;
        for (const double worst : worst_) sum += worst;
        row_.worst = sum / row_.members;
        std::sort(worst_.begin(), worst_.end());
        row_.worst_low = quantile(worst_, 0.1);
        row_.worst_high = quantile(worst_, 0.9);
    }

  private:
    void add_central(const MemberResult& found, const EvaluatedRun& evaluated) {
        row_.worst_of = found.worst_of;
        row_.flags = flags_text(layout_, evaluated.flags);
        if (!evaluated.flags.empty()) row_.first_flag_month = evaluated.flags.front().month;
    }

    const Layout& layout_;
    BatchRow& row_;
    std::vector<double> worst_;  // by member
};

}  // namespace

std::optional<BatchRow> run_one(const RunTask& task, const std::function<bool(double)>& go_on) {
    const Layout& layout = task.file.layout;
    BatchRow row;
    row.months = layout.season.months;
    row.members = task.members;
    row.seed = task.seed;
    RunOptions options{task.seed, 0, calibrate(layout).output_scale, false, task.file.checkpoint};
    std::optional<RunFile> kept;
    if (task.trajectory)
        kept.emplace(*task.trajectory, layout,
                     RunProvenance{task.seed, 1, kProgramVersion, kModelVersion, task.file.text,
                                   task.file.traits_text});
    RowMaker maker(layout, row);
    RunRecord central;
    for (int member = 0; member < task.members; ++member) {
        options.member = member;
        std::vector<SnapshotSink*> also;
        if (kept && member == 0) also.push_back(&*kept);
        const EvaluatedRun evaluated = evaluate_member(layout, options, run_serially, go_on, also);
        if (!evaluated.finished) return std::nullopt;
        if (member == 0) central = evaluated;
        maker.add(evaluated);
    }
    maker.finish();
    if (kept && task.keep(row)) kept->finish(central);
    return row;
}

}  // namespace bedshade
