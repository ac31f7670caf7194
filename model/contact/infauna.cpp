#include "model/contact/infauna.h"

#include <algorithm>

#include "model/contact/reach.h"
#include "model/growth/recession.h"

namespace bedshade {
namespace {

bool is_reached(const Layout& layout, const Inhabitant& who, const ColonyState& state,
                std::size_t colony) {
    return has_tissue(state) &&
           layout.taxon_of(layout.colonies[colony]).bothered_by_base_dwellers &&
           state.position_m.z() <= kInfaunaHeight_m &&
           (state.position_m.head<2>() - who.around_m).norm() <= who.radius_m;
}

void add(Irritation& to, int inhabitant, double speed_mm_d) {
    const double largest = std::max(to.share * to.speed_mm_d, speed_mm_d);
    if (speed_mm_d > to.share * to.speed_mm_d) to.inhabitant = inhabitant;
    to.speed_mm_d += speed_mm_d;
    to.share = to.speed_mm_d > 0.0 ? largest / to.speed_mm_d : 0.0;
}

}  // namespace

std::vector<Irritation> infauna_irritation(const Layout& layout, const Reef& reef) {
    std::vector<Irritation> irritations(reef.colonies.size());
    for (std::size_t k = 0; k < layout.inhabitants.size(); ++k) {
        const Inhabitant& who = layout.inhabitants[k];
        if (who.does != Habit::dwell_at_bases) continue;
        std::vector<std::size_t> bases;
        for (std::size_t i = 0; i < irritations.size(); ++i)
            if (is_reached(layout, who, reef.colonies[i], i)) bases.push_back(i);
        if (bases.empty()) continue;
        const double each = std::min(1.0, who.count / static_cast<double>(bases.size()));
        const double active = active_h(who) / 24.0;
        for (const std::size_t i : bases)
            add(irritations[i], static_cast<int>(k), each * active * kInfaunaRecession_mm_d);
    }
    return irritations;
}

void irritate(const Irritation& irritate, double step_d, ColonyState& state) {
    if (irritate.speed_mm_d <= 0.0 || state.live_fraction <= 0.0) return;
    const double before = state.live_fraction;
    state.live_fraction =
        receded(before, 0.5 * mean_diameter_m(state.radius_m), irritate.speed_mm_d, step_d);
    state.lost.to_infauna += before - state.live_fraction;
}

}  // namespace bedshade
