#include "sim/run/colony_step.h"

#include <algorithm>
#include <cmath>

#include "model/growth/recession.h"

namespace bedshade {
namespace {

/// Of the carbon a sector grows on, the part shared evenly over the whole colony; the rest is its
/// own. A guess: colonies do move carbon toward their edges, and shaded sides still lag.
constexpr double kSharedCarbon = 0.5;

constexpr double kWholeTissue = 0.98;  // an edge that has receded heals before the skeleton extends
constexpr double kDeadBelow = 0.02;    // share of surface: what is left does not recover

double mean_radius_m(const ColonyState& state) { return 0.5 * mean_diameter_m(state.radius_m); }

RadialProfile growth_shares(const ColonyCarbon& carbon, const ColonyStep& step) {
    RadialProfile share{};
    for (std::size_t s = 0; s < share.size(); ++s)
        share[s] = step.growth_temperature_factor *
                   extension_share(kSharedCarbon * carbon.net_carbon +
                                       (1.0 - kSharedCarbon) * carbon.net_by_sector[s],
                                   step.full_growth_net);
    return share;
}

void note_obstacles(const Extension& extension, Touching& touching) {
    const auto note = [&](Obstacle what) {
        touching.glass |= what == Obstacle::glass;
        touching.surface |= what == Obstacle::surface;
        touching.size_limit |= what == Obstacle::size_limit;
    };
    for (const Hindrance& met : extension.met) note(met.what);
    note(extension.met_above.what);
}

}  // namespace

Stage stage_of(const ColonyState& state, const ColonyCarbon& carbon, double full_growth_net,
               double day_d) {
    if (!state.present) return Stage::absent;
    if (state.live_fraction <= 0.0) return Stage::dead;
    if (carbon.net_carbon < 0.0) return state.reserve > 0.0 ? Stage::fasting : Stage::receding;
    if (day_d < state.settled_at_d) return Stage::settling;
    return extension_share(carbon.net_carbon, full_growth_net) > 0.0 ? Stage::growing : Stage::idle;
}

void live_on_light(const ColonyStep& step, const ColonyCarbon& carbon, ColonyState& state) {
    const Taxon& taxon = *step.taxon;
    const double spent_after_d = days_until_spent(taxon, state.reserve, carbon.net_carbon);
    const double before = state.live_fraction;
    if (spent_after_d < step.step_d) {
        state.live_fraction = receded(before, mean_radius_m(state), taxon.recession_mm_d,
                                      step.step_d - spent_after_d);
        state.lost.to_darkness += before - state.live_fraction;
    } else if (carbon.net_carbon > 0.0 && before < 1.0) {
        const double rate = taxon.extension_mm_yr.mean * step.growth_temperature_factor *
                            extension_share(carbon.net_carbon, step.full_growth_net);
        state.live_fraction = healed(before, mean_radius_m(state), rate, step.step_d);
    }
    state.reserve = reserve_after(taxon, state.reserve, carbon.net_carbon, step.step_d);
    state.saturation_umol_m2_s = acclimated_saturation_umol_m2_s(
        taxon, state.saturation_umol_m2_s, step.equilibrium_saturation_umol_m2_s, step.step_d);
}

void bear_sand(const SandStep& sand, ColonyState& state) {
    const SandOutcome outcome = follow_sand({state.sand_kg_m2, state.sand_over_d}, sand);
    state.sand_kg_m2 = outcome.end.load_kg_m2;
    state.sand_over_d = outcome.end.over_d;
    state.sand_transmittance = outcome.mean_transmittance;
    if (outcome.dying_d <= 0.0) return;
    // What has been covered too long dies as fast again as it held out: half of it in that time.
    const double before = state.live_fraction;
    state.live_fraction *= std::exp2(-outcome.dying_d / std::max(sand.burial_d, 0.1));
    state.lost.to_sand += before - state.live_fraction;
}

void grow(const ColonyStep& step, const ColonyCarbon& carbon, const Surroundings& around,
          ColonyState& state) {
    const double growing_d = step.from_d + step.step_d - std::max(step.from_d, state.settled_at_d);
    if (growing_d <= 0.0 || state.live_fraction < kWholeTissue) return;
    const Extension extension =
        extend(around, step.index, state, growth_shares(carbon, step), growing_d);
    state.radius_m = extension.radius_m;
    state.height_m = extension.height_m;
    note_obstacles(extension, state.touching);
}

void mark_dead(ColonyState& state) {
    if (state.live_fraction < kDeadBelow) state.live_fraction = 0.0;
}

}  // namespace bedshade
