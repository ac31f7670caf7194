#include "sim/trajectory/run_layout.h"

#include <cmath>
#include <fmt/format.h>
#include <stdexcept>

#include "sim/base/calendar.h"
#include "sim/input/layout/layout_reader.h"

namespace bedshade {
namespace {

LayoutFile read(const Trajectory& run) {
    LayoutOptions options;
    options.traits_text = run.facts().traits_text;
    try {
        return read_layout_text(run.facts().layout_text, "layout_text", options);
    } catch (const InputError& error) {
        throw TrajectoryError(
            fmt::format("the layout stored in the trajectory cannot be read:\n{}", error.what()));
    }
}

void require_same_colonies(const Layout& layout, const Trajectory& run) {
    const auto& colonies = run.colonies();
    bool same = layout.colonies.size() == colonies.size();
    for (std::size_t i = 0; same && i < colonies.size(); ++i)
        same = layout.colonies[i].name == colonies[i].name &&
               layout.taxon_of(layout.colonies[i]).id == colonies[i].taxon;
    if (!same) throw TrajectoryError("the trajectory's colonies are not those of its layout");
}

/// How many things of its kind a culprit can be one of.
std::size_t count_of(const Layout& layout, CulpritKind kind) {
    switch (kind) {
        case CulpritKind::colony:
            return layout.colonies.size();
        case CulpritKind::pump:
            return layout.pumps.size();
        case CulpritKind::inhabitant:
            return layout.inhabitants.size();
        case CulpritKind::lamp:
            return layout.lamps.size();
        case CulpritKind::action:
            return layout.actions.size();
        case CulpritKind::water:
        case CulpritKind::self:
            break;
    }
    return 0;
}

/// Whether a flag's sentence is about another colony.
bool is_about_a_colony(const Flag& flag) {
    switch (flag.kind) {
        case FlagKind::light_short:
            return true;
        case FlagKind::stung:
        case FlagKind::overgrown:
            return flag.culprit >= 0;
        default:
            return flag.culprit_kind == CulpritKind::colony;
    }
}

void require_valid_flag(const Layout& layout, const Flag& flag) {
    const auto count = static_cast<int>(count_of(layout, flag.culprit_kind));
    const bool known = flag.culprit >= -1 && flag.culprit < count;
    const bool named = flag.culprit >= 0 && flag.culprit_kind == CulpritKind::colony;
    if (!known || (is_about_a_colony(flag) && !named))
        throw TrajectoryError(fmt::format(
            "a flag '{}' names {} number {} as its cause, which is not in the trajectory's layout",
            to_string(flag.kind), to_string(flag.culprit_kind), flag.culprit));
}

}  // namespace

Layout layout_of(const Trajectory& run) {
    Layout layout = read(run).layout;
    require_same_colonies(layout, run);
    for (const Flag& flag : run.flags()) require_valid_flag(layout, flag);
    if (!run.days_d().empty()) layout.season.months = month_of_day(run.days_d().back());
    return layout;
}

std::shared_ptr<const Checkpoint> checkpoint_of(const Trajectory& run) {
    return read(run).checkpoint;
}

int snapshot_at_month(const Trajectory& run, int month) {
    const double day = day_at_month(month);
    const auto& days = run.days_d();
    if (month < 0 || run.snapshots(0) == 0 || day > days.back() + 1.0)
        throw std::out_of_range(fmt::format("month {} is not in the run, which ends in month {}",
                                            month, days.empty() ? 0 : month_of_day(days.back())));
    if (day < days.front() - 1.0)
        throw std::out_of_range(fmt::format(
            "month {} is not in the run, which continues from day {:g}", month, days.front()));
    int best = 0;
    for (int k = 1; k < run.snapshots(0); ++k)
        if (std::abs(days[static_cast<std::size_t>(k)] - day) <
            std::abs(days[static_cast<std::size_t>(best)] - day))
            best = k;
    return best;
}

std::vector<int> months_of(const Trajectory& run) {
    std::vector<int> months;
    const double last_d =
        run.snapshots(0) == 0 ? -1.0 : run.days_d()[static_cast<std::size_t>(run.snapshots(0)) - 1];
    const double first_d = run.days_d().empty() ? 0.0 : run.days_d().front();
    for (int month = static_cast<int>(std::ceil(first_d / kDaysPerMonth));
         day_at_month(month) <= last_d + 1e-6; ++month)
        months.push_back(month);
    return months;
}

}  // namespace bedshade
