#include "sim/verdict/run_means.h"

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

void RunMeans::take(const Snapshot& snapshot) {
    colonies_.resize(snapshot.colonies.size());
    for (std::size_t i = 0; i < colonies_.size(); ++i) note_colony(snapshot, i);
    if (snapshot.step_d <= 0.0) return;
    days_ += snapshot.step_d;
    take_in(snapshot.bed.ppfd_umol_m2_s, snapshot.step_d, days_, bed_.ppfd_umol_m2_s);
    take_in(snapshot.bed.shear_stress_Pa, snapshot.step_d, days_, bed_.shear_stress_Pa);
    take_in(snapshot.bed.deposition_kg_m2_d, snapshot.step_d, days_, bed_.deposition_kg_m2_d);
    take_in(snapshot.bed.net_change_kg_m2_d, snapshot.step_d, days_, bed_.net_change_kg_m2_d);
}

void RunMeans::note_colony(const Snapshot& snapshot, std::size_t colony) {
    const ColonyState& state = snapshot.reef.colonies[colony];
    const ColonyObservation& found = snapshot.colonies[colony];
    if (!state.present) return;
    ColonyMeans& means = colonies_[colony];
    means.most_sand_kg_m2 = std::max(means.most_sand_kg_m2, state.sand_kg_m2);
    means.end_diameter_m = mean_diameter_m(state.radius_m);
    means.end_live_fraction = state.live_fraction;
    if (snapshot.step_d <= 0.0) return;
    means.days += snapshot.step_d;
    take_in(found.dli_mol_m2_d, snapshot.step_d, means.days, means.dli_mol_m2_d);
    take_in(found.flow_speed_m_s, snapshot.step_d, means.days, means.flow_speed_m_s);
    take_in(found.deposition_kg_m2_d, snapshot.step_d, means.days, means.deposition_kg_m2_d);
}

}  // namespace bedshade
