#include "sim/run/step.h"

#include <algorithm>
#include <utility>

#include "model/contact/infauna.h"
#include "model/growth/walking.h"

#include "sim/run/actions.h"
#include "sim/run/checkpoint.h"
#include "sim/run/colony_carbon.h"
#include "sim/run/colony_sand.h"
#include "sim/run/colony_step.h"
#include "sim/run/conditions.h"
#include "sim/run/contact_step.h"
#include "sim/run/loose_corals.h"

namespace bedshade {
namespace {

std::uint32_t member_of(const TankModel& tank) {
    return static_cast<std::uint32_t>(tank.options().member);
}

/// Does something for every colony that is present, in parallel.
template <class Work>
void for_present(const TankModel& tank, const Reef& reef, Work work) {
    tank.parallel()(reef.colonies.size(), [&](std::size_t begin, std::size_t end) {
        for (std::size_t i = begin; i < end; ++i)
            if (reef.colonies[i].present) work(i);
    });
}

void sort_largest_first(std::vector<ShadeShare>& shares) {
    std::sort(shares.begin(), shares.end(), [](const ShadeShare& a, const ShadeShare& b) {
        return a.share != b.share ? a.share > b.share : a.colony < b.colony;
    });
}

/// Tissue that is new in the tank starts acclimated to its own light of that day, or to the light
/// its keeper names.
void acclimate(const TankModel& tank, const ReefLightObservation& light, std::size_t i,
               ColonyState& state) {
    const Colony& colony = tank.layout().colonies[i];
    const ColonyCarbon today = carbon_of(tank.taxon(i), state, {}, tank.light_day(),
                                         tank.light().receptors(i), light.colonies[i], 1.0, 0.0);
    double peak = today.peak_umol_m2_s;
    if (colony.acclimated_to_dli_mol_m2_d) {
        const double own_dli = today.dli_mol_m2_d;
        constexpr double kTenHours_mol_per_umol = 10.0 * 0.0036;
        peak = own_dli > 0.0 ? peak * *colony.acclimated_to_dli_mol_m2_d / own_dli
                             : *colony.acclimated_to_dli_mol_m2_d / kTenHours_mol_per_umol;
    }
    state.saturation_umol_m2_s = equilibrium_saturation_umol_m2_s(tank.taxon(i), peak);
}

BedObservation observe_bed(const TankModel& tank, const ReefLightObservation& light,
                           const BedSand& sand) {
    const std::size_t cells = tank.light().grid().size();
    const std::size_t lamps = tank.light().lamp_count();
    BedObservation bed;
    bed.ppfd_umol_m2_s = summed_over_lamps(light.bed, cells);
    bed.dli_mol_m2_d.resize(cells);
    for (std::size_t cell = 0; cell < cells; ++cell)
        bed.dli_mol_m2_d[cell] =
            dli_mol_m2_d(tank.light_day(), std::span(light.bed).subspan(cell * lamps, lamps));
    bed.shear_stress_Pa = sand.shear_stress_Pa();
    bed.deposition_kg_m2_d = sand.deposition_kg_m2_d();
    bed.net_change_kg_m2_d = sand.net_change_kg_m2_d();
    return bed;
}

/// Flow about every colony, and the sand that the step brings to it.
void observe_sand(const TankModel& tank, const BedSand& sand, Snapshot& snapshot) {
    const double from_d = snapshot.day_d, to_d = snapshot.day_d + snapshot.step_d;
    const auto bodies = flow_bodies(snapshot.reef);
    const auto events = sand.events(tank.options().seed, member_of(tank), from_d, to_d);
    for_present(tank, snapshot.reef, [&](std::size_t i) {
        const ColonyState& state = snapshot.reef.colonies[i];
        const Vec3 top = top_of(state);
        const double wake =
            wake_factor(bodies, static_cast<int>(i), top, tank.flow()->velocity_m_s(top));
        static_cast<ColonySand&>(snapshot.colonies[i]) =
            colony_sand(sand, tank.taxon(i), state, wake, events, from_d, to_d);
    });
}

AmbientConditions ambient_conditions(const TankModel& tank, const Snapshot& snapshot,
                                     std::size_t i) {
    const double food = food_over(tank.layout(), tank.layout().colonies[i].name, snapshot.day_d,
                                  snapshot.day_d + snapshot.step_d);
    return ambient_conditions_of(tank.taxon(i), snapshot.colonies[i].flow_speed_m_s, food,
                                 temperature_on_C(tank.layout(), snapshot.day_d));
}

/// Carbon of every colony by its light, in the flow that was observed, and who takes of that light.
void observe_carbon(const TankModel& tank, const ReefLightObservation& light, Snapshot& snapshot) {
    const std::size_t lamps = tank.light().lamp_count();
    for_present(tank, snapshot.reef, [&](std::size_t i) {
        ColonyState& state = snapshot.reef.colonies[i];
        ColonyObservation& found = snapshot.colonies[i];
        static_cast<ColonyCarbon&>(found) =
            carbon_of(tank.taxon(i), state, ambient_conditions(tank, snapshot, i), tank.light_day(),
                      tank.light().receptors(i), light.colonies[i], state.sand_transmittance,
                      state.need_scale);
        state.need_scale = found.need_scale;
        state.stage = stage_of(state, found, tank.full_growth_net(i), snapshot.day_d);
        found.shade_by = light.colonies[i].attenuation_by_colony;
        found.shade_since_baseline = light.colonies[i].attenuation_since_baseline;
        sort_largest_first(found.shade_by);
        sort_largest_first(found.shade_since_baseline);
        if (tank.taxon(i).mobility_m_d >= kPhototaxisMobility_m_d)
            found.brighter_side = brighter_side(light.colonies[i].patch_umol_m2_s, lamps);
    });
    for (ColonyState& state : snapshot.reef.colonies)
        if (!state.present) state.stage = Stage::absent;
}

/// Neighbours that have harmed it so far, and animals at its base.
void observe_neighbours(const TankModel& tank, Snapshot& snapshot) {
    const auto irritations = infauna_irritation(tank.layout(), snapshot.reef);
    for (std::size_t i = 0; i < snapshot.colonies.size(); ++i) {
        if (!snapshot.reef.colonies[i].present) continue;
        static_cast<ContactState::Harm&>(snapshot.colonies[i]) = snapshot.reef.contacts.harm[i];
        snapshot.colonies[i].irritated_by = irritations[i];
    }
}

ColonyStep step_of(const TankModel& tank, const Snapshot& snapshot, std::size_t i) {
    ColonyStep step;
    step.from_d = snapshot.day_d;
    step.step_d = snapshot.step_d;
    step.taxon = &tank.taxon(i);
    step.colony = &tank.layout().colonies[i];
    step.index = static_cast<int>(i);
    step.full_growth_net = tank.full_growth_net(i);
    step.growth_temperature_factor =
        growth_temperature_factor(temperature_on_C(tank.layout(), snapshot.day_d));
    step.equilibrium_saturation_umol_m2_s =
        equilibrium_saturation_umol_m2_s(tank.taxon(i), snapshot.colonies[i].peak_umol_m2_s);
    return step;
}

LooseStep loose_step(const TankModel& tank, const Snapshot& snapshot) {
    LooseStep step{*tank.flow(),
                   tank.options().seed,
                   member_of(tank),
                   snapshot.day_d,
                   snapshot.day_d + snapshot.step_d,
                   {}};
    for (const ColonyObservation& found : snapshot.colonies)
        step.brighter.push_back(found.brighter_side);
    return step;
}

}  // namespace

Reef initial_reef(const TankModel& tank) {
    const Checkpoint* checkpoint = tank.options().checkpoint.get();
    Reef reef = reef_at_start(tank.layout(), checkpoint);
    ReefLightObservation light = tank.light().baseline(tank.parallel());
    reef.light = light.state;
    if (checkpoint != nullptr) {
        light = tank.light().observe(reef, tank.parallel());
        reef.light = light.state;
    }
    for (std::size_t i = 0; i < tank.colonies(); ++i) {
        const bool is_new = checkpoint == nullptr || !checkpoint->colonies[i];
        if (is_new && reef.colonies[i].present) acclimate(tank, light, i, reef.colonies[i]);
    }
    return reef;
}

Reef change_settings(TankModel& tank, Reef reef) {
    const Invalidated invalidated = tank.apply_settings(reef.day_d);
    if (invalidated.lamp_places) reef.light = tank.light().baseline(tank.parallel()).state;
    if (invalidated.flow || invalidated.suspended) reef.wakes.clear();
    return reef;
}

Reef apply_actions(const TankModel& tank, Reef reef) {
    reef.applied_actions = apply_to_colonies(tank.layout(), reef.day_d, reef);
    const auto adds = [](const AppliedAction& done) { return done.kind == ActionKind::add; };
    if (std::none_of(reef.applied_actions.begin(), reef.applied_actions.end(), adds)) return reef;
    const ReefLightObservation light = tank.light().observe(reef, tank.parallel());
    reef.light = light.state;
    for (const AppliedAction& done : reef.applied_actions)
        if (adds(done))
            acclimate(tank, light, static_cast<std::size_t>(done.colony),
                      reef.colonies[static_cast<std::size_t>(done.colony)]);
    return reef;
}

Snapshot observe(const TankModel& tank, const Reef& reef, double step_d) {
    Snapshot snapshot;
    snapshot.day_d = reef.day_d;
    snapshot.step_d = step_d;
    snapshot.reef = reef;
    snapshot.colonies.resize(reef.colonies.size());

    ReefLightObservation light = tank.light().observe(reef, tank.parallel());
    const auto bodies = flow_bodies(reef);
    if (!similar_bodies(bodies, reef.wakes)) snapshot.reef.wakes = bodies;
    const BedSand& sand = tank.sand_behind(snapshot.reef.wakes);
    snapshot.bed = observe_bed(tank, light, sand);
    observe_sand(tank, sand, snapshot);
    observe_carbon(tank, light, snapshot);
    observe_neighbours(tank, snapshot);
    snapshot.reef.light = std::move(light.state);
    return snapshot;
}

Reef advance(const TankModel& tank, const Snapshot& snapshot) {
    Reef next = snapshot.reef;
    next.applied_actions.clear();
    Surroundings& around = tank.surroundings(snapshot.reef);
    ContactStep contacts =
        contact_step(find_contacts(around, snapshot.reef, tank.options().seed, member_of(tank)),
                     snapshot.reef.contacts, tank.colonies(), snapshot.day_d, snapshot.step_d);
    for_present(tank, snapshot.reef, [&](std::size_t i) {
        ColonyState& state = next.colonies[i];
        const ColonyObservation& found = snapshot.colonies[i];
        if (state.stage == Stage::dead) return;
        const ColonyStep step = step_of(tank, snapshot, i);
        grow(step, found, around, state);
        live_on_light(step, found, state);
        bear_sand(found.sand_step, state);
        sting(contacts.harmful[i], snapshot.step_d, state);
        irritate(found.irritated_by, snapshot.step_d, state);
        mark_dead(state);
    });
    next.contacts = std::move(contacts.state);
    next.falls = move_loose(loose_step(tank, snapshot), around, next);
    next.day_d = snapshot.day_d + snapshot.step_d;
    return next;
}

}  // namespace bedshade
