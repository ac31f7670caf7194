#include "sim/verdict/season_means.h"

#include <algorithm>

namespace bedshade {
namespace {

/// Takes a step of `step_d` days with this value into a mean over `days_with_it` days.
void take_in(double value, double step_d, double days_with_it, double& mean) {
    mean += (value - mean) * step_d / days_with_it;
}

void take_in(const std::vector<double>& map, double step_d, double days_with_it,
             std::vector<double>& mean) {
    mean.resize(map.size(), 0.0);
    for (std::size_t i = 0; i < map.size(); ++i) take_in(map[i], step_d, days_with_it, mean[i]);
}

}  // namespace

void SeasonMeans::take(const Frame& frame) {
    colonies_.resize(frame.colonies.size());
    for (std::size_t i = 0; i < colonies_.size(); ++i) note_colony(frame, i);
    if (frame.step_d <= 0.0) return;
    days_ += frame.step_d;
    take_in(frame.bed.ppfd_umol_m2_s, frame.step_d, days_, bed_.ppfd_umol_m2_s);
    take_in(frame.bed.shear_stress_Pa, frame.step_d, days_, bed_.shear_stress_Pa);
    take_in(frame.bed.fallout_kg_m2_d, frame.step_d, days_, bed_.fallout_kg_m2_d);
    take_in(frame.bed.drift_kg_m2_d, frame.step_d, days_, bed_.drift_kg_m2_d);
}

void SeasonMeans::note_colony(const Frame& frame, std::size_t colony) {
    const ColonyState& state = frame.reef.colonies[colony];
    const ColonyFinding& found = frame.colonies[colony];
    if (!state.present) return;
    ColonySeason& season = colonies_[colony];
    season.most_sand_kg_m2 = std::max(season.most_sand_kg_m2, state.sand_kg_m2);
    season.end_diameter_m = mean_diameter_m(state.radius_m);
    season.end_live_fraction = state.live_fraction;
    if (frame.step_d <= 0.0) return;
    season.days += frame.step_d;
    take_in(found.dli_mol_m2_d, frame.step_d, season.days, season.dli_mol_m2_d);
    take_in(found.flow_speed_m_s, frame.step_d, season.days, season.flow_speed_m_s);
    take_in(found.fallout_kg_m2_d, frame.step_d, season.days, season.fallout_kg_m2_d);
}

}  // namespace bedshade
