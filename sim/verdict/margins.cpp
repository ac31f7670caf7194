#include "sim/verdict/margins.h"

#include <cmath>

#include "model/contact/clearance.h"
#include "model/contact/reach.h"
#include "model/sediment/sediment_rejection.h"

namespace bedshade {
namespace {

constexpr double kWindow_d = 30.0;  // of the means that light is judged on, as the flags' are

}  // namespace

double log_ratio(double there_is, double needed) {
    if (needed <= 0.0) return kNoLimit;
    return there_is > 0.0 ? std::log(there_is / needed) : -kNoLimit;
}

const char* to_string(MarginKind kind) {
    switch (kind) {
        case MarginKind::light:
            return "light";
        case MarginKind::sand:
            return "sand";
        case MarginKind::reach:
            return "reach";
        case MarginKind::flow:
            return "flow";
    }
    return "";
}

WorstMargin worst_of(const Margins& margins) {
    WorstMargin worst;
    const auto weigh = [&](const Worst& margin, double of_one, MarginKind kind) {
        if (margin.value / of_one < worst.value)
            worst = {margin.value / of_one, kind, margin.day_d};
    };
    weigh(margins.light, 1.0, MarginKind::light);
    weigh(margins.sand, 1.0, MarginKind::sand);
    weigh(margins.reach_m, kRoomOfOne_m, MarginKind::reach);
    weigh(margins.flow, 1.0, MarginKind::flow);
    return worst;
}

MarginTracker::MarginTracker(const Layout& layout)
    : layout_(layout),
      around_(layout),
      light_(layout.colonies.size(), WindowMean(kWindow_d)),
      need_(layout.colonies.size(), WindowMean(kWindow_d)),
      margins_(layout.colonies.size()) {}

void MarginTracker::take(const Snapshot& snapshot) {
    around_.set_colonies(snapshot.reef);
    const std::vector<Clearance> room = clearances(around_, snapshot.reef);
    for (std::size_t i = 0; i < margins_.size(); ++i) {
        if (!has_tissue(snapshot.reef.colonies[i])) continue;
        note_light(snapshot, i);
        note_sand_and_flow(snapshot, i);
        Margins& margins = margins_[i];
        if (room[i].room_m < margins.reach_m.value) {
            margins.reach_m = {room[i].room_m, snapshot.day_d};
            margins.neighbour = room[i].neighbour;
        }
    }
}

void MarginTracker::note_light(const Snapshot& snapshot, std::size_t colony) {
    const ColonyObservation& found = snapshot.colonies[colony];
    const auto light = light_[colony].add(snapshot.day_d, found.dli_mol_m2_d);
    const auto need = need_[colony].add(snapshot.day_d, found.need_dli_mol_m2_d);
    if (light) {
        margins_[colony].light.note(log_ratio(*light, *need), snapshot.day_d);
    } else if (snapshot.step_d <= 0.0) {
        // A run shorter than a month is judged on the mean over its whole length.
        margins_[colony].light.note(log_ratio(*light_[colony].so_far(), *need_[colony].so_far()),
                                    snapshot.day_d);
    }
}

void MarginTracker::note_sand_and_flow(const Snapshot& snapshot, std::size_t colony) {
    const Taxon& taxon = layout_.taxon_of(layout_.colonies[colony]);
    const double speed_m_s = snapshot.colonies[colony].flow_speed_m_s;
    Margins& margins = margins_[colony];
    margins.sand.note(log_ratio(kSmotheringLoad_kg_m2, snapshot.reef.colonies[colony].sand_kg_m2),
                      snapshot.day_d);
    margins.flow.note(log_ratio(speed_m_s, taxon.flow_low_m_s), snapshot.day_d);
    margins.flow.note(log_ratio(taxon.flow_high_m_s, speed_m_s), snapshot.day_d);
}

}  // namespace bedshade
