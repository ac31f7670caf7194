#include "sim/run/forecast.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <optional>
#include <utility>

#include "model/contact/infauna.h"
#include "model/growth/surroundings.h"
#include "model/growth/walking.h"
#include "model/sediment/bed_sand.h"

#include "sim/run/colony_sand.h"
#include "sim/run/colony_step.h"
#include "sim/run/conditions.h"
#include "sim/run/contact_history.h"
#include "sim/run/flow_cache.h"
#include "sim/run/loose_corals.h"
#include "sim/run/reef_light.h"
#include "sim/run/settings.h"

namespace bedshade {
namespace {

void sort_largest_first(std::vector<ShadeShare>& shares) {
    std::sort(shares.begin(), shares.end(), [](const ShadeShare& a, const ShadeShare& b) {
        return a.share != b.share ? a.share > b.share : a.colony < b.colony;
    });
}

FallFigures figures_of(const Fall& fall) {
    return {static_cast<double>(fall.why),
            fall.from_m.x(),
            fall.from_m.y(),
            fall.from_m.z(),
            fall.to_m.x(),
            fall.to_m.y(),
            fall.to_m.z(),
            static_cast<double>(fall.onto),
            fall.gust_m_s,
            fall.holds_m_s};
}

Fall fall_of(int colony, const FallFigures& f) {
    return {colony,
            static_cast<FallCause>(f[0]),
            {f[1], f[2], f[3]},
            {f[4], f[5], f[6]},
            static_cast<int>(f[7]),
            f[8],
            f[9]};
}

}  // namespace

struct Forecast::State {
    Layout layout;  // with lamps, pumps and water as they are in force
    ForecastOptions options;
    ParallelFor parallel;
    Reef reef;
    std::optional<ReefLight> light;
    LightDay day;
    std::shared_ptr<const FlowField> first_flow, flow;
    std::optional<BedSand> sand;
    std::vector<FlowBody> bodies;        // of the last look
    std::vector<FlowBody> sheltered_by;  // the bodies that `sand` was last laid for
    Surroundings around;
    double temperature_C = 0.0;           // of the last look
    std::vector<double> full_growth_net;  // by colony
    std::vector<ColonyCarbon> carbon;     // of the last look
    std::vector<ColonySand> coming_sand;  // from the last look, for the step that follows
    std::vector<Irritation> irritations;  // of the last look
    ContactHistory contacts;
    std::vector<double> action_days;             // rising
    std::vector<AppliedAction> applied_actions;  // of the day, for the next look
    std::vector<Fall> falls;                     // of the last step, for the next look

    State(const Layout& the_layout, const ForecastOptions& the_options, ParallelFor the_parallel)
        : layout(the_layout),
          options(the_options),
          parallel(std::move(the_parallel)),
          reef(reef_now(layout)),
          around(layout),
          carbon(reef.colonies.size()),
          coming_sand(reef.colonies.size()),
          contacts(reef.colonies.size()),
          action_days(bedshade::action_days(layout)) {
        for (const Colony& colony : layout.colonies)
            full_growth_net.push_back(full_growth_net_carbon(layout.taxon_of(colony)));
        if (reef.day_d > 0.0)
            go_on();
        else
            begin();
    }

    const Taxon& taxon(std::size_t i) const { return layout.taxon_of(layout.colonies[i]); }
    std::size_t count() const { return reef.colonies.size(); }

    void begin();
    void go_on();
    void set_again(const std::vector<double>& days_d);
    void remember();
    void set_in();
    void acclimate_to_baseline(std::size_t i);
    void lay_sand(const std::vector<FlowBody>& corals);
    void fill(std::size_t i, ColonyMemory& memory) const;
    void settle(const Invalidated& invalidated);
    void apply_todays_actions();
    double next_action_d() const;
    void observe_flow();
    void observe_bed(Snapshot& snapshot);
    void observe_colonies(Snapshot& snapshot);
    AmbientConditions ambient_conditions_about(std::size_t i, double flow_m_s, double step_d) const;
    void observe_colony(std::size_t i, const ColonyLight& light, double step_d,
                        ColonyObservation& found);
    void observe_sand(Snapshot& snapshot);
    ColonyStep step_of(std::size_t i, const Snapshot& snapshot) const;
    void advance_colony(std::size_t i, const Snapshot& snapshot);
    void move_loose_colonies(const Snapshot& snapshot);
};

void Forecast::State::begin() {
    apply_settings(reef.day_d, layout);
    settle({true, true, true, true});  // everything
    first_flow = flow;
    for (std::size_t i = 0; i < count(); ++i)
        if (reef.colonies[i].present) acclimate_to_baseline(i);
    apply_todays_actions();
}

/// What was planned before its day has been done, and has left its settings; what is planned for
/// the day itself is still to be done.
void Forecast::State::go_on() {
    std::vector<double> past_d{0.0};
    for (const double day_d : action_days)
        if (day_d > 0.0 && day_d < reef.day_d && !is_same_day(day_d, reef.day_d))
            past_d.push_back(day_d);
    set_again(past_d);
    contacts.take_up(layout);
    remember();
    set_in();
    settle(apply_settings(reef.day_d, layout));
    first_flow = flow;
    apply_todays_actions();
}

/// Settings of past days, in their order. Paths of light are those found when lamps were moved
/// last, under the settings of that day.
void Forecast::State::set_again(const std::vector<double>& days_d) {
    double lit_d = 0.0;
    Layout tried = layout;
    for (const double day_d : days_d)
        if (apply_settings(day_d, tried).lamp_places) lit_d = day_d;
    for (const double day_d : days_d) {
        apply_settings(day_d, layout);
        if (day_d == lit_d) settle({true, false, false, false});
    }
    settle({false, true, true, true});
}

/// Takes up what was known from the look before.
void Forecast::State::remember() {
    light->remember(parallel);
    std::vector<FlowBody> corals;
    for (std::size_t i = 0; i < count(); ++i) {
        const auto& so_far = layout.colonies[i].so_far;
        if (!so_far || !so_far->memory) continue;
        const ColonyMemory& memory = *so_far->memory;
        carbon[i].need_scale = memory.need_guess;
        corals.push_back({memory.lee_base_m, memory.lee_radius_m, memory.lee_height_m});
        for (const FallFigures& figures : memory.falls) {
            Fall& fall = falls.emplace_back(fall_of(static_cast<int>(i), figures));
            // The one it fell onto may have been taken out of the layout since.
            if (fall.onto >= static_cast<int>(count())) fall.onto = -1;
        }
    }
    if (corals.size() == count()) lay_sand(corals);
}

/// Colonies that stand as they were set are set on this day.
void Forecast::State::set_in() {
    const auto is_new = [this](std::size_t i) {
        return reef.colonies[i].present && !layout.colonies[i].so_far;
    };
    bool any = false;
    for (std::size_t i = 0; i < count(); ++i) any = any || is_new(i);
    if (!any) return;
    light->follow(reef, parallel);
    for (std::size_t i = 0; i < count(); ++i)
        if (is_new(i)) acclimate_to_baseline(i);
}

void Forecast::State::fill(std::size_t i, ColonyMemory& memory) const {
    light->fill(i, memory);
    // A need that no light meets is no guess.
    const double need = carbon[i].need_scale;
    memory.need_guess = std::isfinite(need) ? need : 0.0;
    memory.lee_base_m = sheltered_by[i].base_m;
    memory.lee_radius_m = sheltered_by[i].radius_m;
    memory.lee_height_m = sheltered_by[i].height_m;
    for (const Fall& fall : falls)
        if (fall.colony == static_cast<int>(i)) memory.falls.push_back(figures_of(fall));
}

/// Tissue set in starts out acclimated to its own light of that day, or to the light its keeper
/// names.
void Forecast::State::acclimate_to_baseline(std::size_t i) {
    const Colony& colony = layout.colonies[i];
    const ColonyCarbon today = carbon_of(taxon(i), reef.colonies[i], {}, day, light->receptors(i),
                                         light->colonies()[i], 1.0, 0.0);
    double peak = today.peak_umol_m2_s;
    if (colony.acclimated_to_dli_mol_m2_d) {
        const double own_dli = today.dli_mol_m2_d;
        constexpr double kTenHours_mol_per_umol = 10.0 * 0.0036;
        peak = own_dli > 0.0 ? peak * *colony.acclimated_to_dli_mol_m2_d / own_dli
                             : *colony.acclimated_to_dli_mol_m2_d / kTenHours_mol_per_umol;
    }
    reef.colonies[i].saturation_umol_m2_s = equilibrium_saturation_umol_m2_s(taxon(i), peak);
}

/// Finds anew what lamps, pumps and water decide.
void Forecast::State::settle(const Invalidated& invalidated) {
    if (invalidated.lamp_places)
        light.emplace(layout, baseline_reef(layout), options.output_scale, parallel,
                      options.full_light);
    if (invalidated.lamp_hours) day = light_day_of(layout);
    if (invalidated.flow) flow = process_flow_cache().flow_of(layout, parallel);
    if (invalidated.flow || invalidated.suspended) sand.reset();
}

/// Does what is planned for the reef's day, once that is settled.
void Forecast::State::apply_todays_actions() {
    applied_actions = apply_actions(layout, reef.day_d, reef);
    const auto adds = [](const AppliedAction& done) { return done.kind == ActionKind::add; };
    if (std::none_of(applied_actions.begin(), applied_actions.end(), adds)) return;
    light->follow(reef, parallel);  // which the new ones are acclimated to
    for (const AppliedAction& done : applied_actions)
        if (adds(done)) acclimate_to_baseline(static_cast<std::size_t>(done.colony));
}

/// The next day after the reef's on which something is done.
double Forecast::State::next_action_d() const {
    constexpr double kSliver_d = 1e-6;
    const auto next =
        std::upper_bound(action_days.begin(), action_days.end(), reef.day_d + kSliver_d);
    return next == action_days.end() ? std::numeric_limits<double>::infinity() : *next;
}

/// Corals as the flow meets them; the bed behind them is laid anew once they have grown enough.
void Forecast::State::observe_flow() {
    bodies = flow_bodies(reef);
    if (sand && similar_bodies(bodies, sheltered_by)) return;
    lay_sand(bodies);
}

void Forecast::State::lay_sand(const std::vector<FlowBody>& corals) {
    if (sand)
        sand->update_wakes(corals);
    else
        sand.emplace(layout.tank, layout.substrate, layout.rocks, layout.inhabitants, layout.water,
                     flow, light->grid(), corals);
    sheltered_by = corals;
}

void Forecast::State::observe_bed(Snapshot& snapshot) {
    const BedGrid& grid = light->grid();
    const std::size_t lamps = light->lamp_count();
    const auto& by_lamp = light->bed();
    snapshot.bed.ppfd_umol_m2_s = summed_over_lamps(by_lamp, grid.size());
    snapshot.bed.dli_mol_m2_d.resize(grid.size());
    for (std::size_t cell = 0; cell < grid.size(); ++cell)
        snapshot.bed.dli_mol_m2_d[cell] =
            dli_mol_m2_d(day, std::span(by_lamp).subspan(cell * lamps, lamps));
    snapshot.bed.shear_stress_Pa = sand->shear_stress_Pa();
    snapshot.bed.deposition_kg_m2_d = sand->deposition_kg_m2_d();
    snapshot.bed.net_change_kg_m2_d = sand->net_change_kg_m2_d();
}

/// The water about a colony from today on.
AmbientConditions Forecast::State::ambient_conditions_about(std::size_t i, double flow_m_s,
                                                            double step_d) const {
    const double food = food_over(layout, layout.colonies[i].name, reef.day_d, reef.day_d + step_d);
    return ambient_conditions_of(taxon(i), flow_m_s, food, temperature_C);
}

void Forecast::State::observe_colony(std::size_t i, const ColonyLight& colony_light, double step_d,
                                     ColonyObservation& found) {
    ColonyState& state = reef.colonies[i];
    const ColonyCarbon today = carbon_of(
        taxon(i), state, ambient_conditions_about(i, found.flow_speed_m_s, step_d), day,
        light->receptors(i), colony_light, state.sand_transmittance, carbon[i].need_scale);
    carbon[i] = today;
    state.stage = stage_of(state, today, full_growth_net[i], reef.day_d);
    found.ppfd_mean_umol_m2_s = today.ppfd_mean_umol_m2_s;
    found.dli_mol_m2_d = today.dli_mol_m2_d;
    found.need_dli_mol_m2_d = today.need_dli_mol_m2_d;
    found.need_ppfd_umol_m2_s = today.need_ppfd_umol_m2_s;
    found.net_carbon = today.net;
    found.net_others_at_baseline = today.net_others_at_baseline;
    found.net_uninhibited = today.net_uninhibited;
    found.stung_by = contacts.stung_by(i);
    found.by_chemistry = contacts.by_chemistry(i);
    found.irritated_by = irritations[i];
    found.overgrown_by = contacts.overgrown_by(i);
    found.shade_by = colony_light.attenuation_by_colony;
    found.shade_since_baseline = colony_light.attenuation_since_baseline;
    sort_largest_first(found.shade_by);
    sort_largest_first(found.shade_since_baseline);
}

void Forecast::State::observe_colonies(Snapshot& snapshot) {
    const auto& light_now = light->colonies();
    irritations = infauna_irritation(layout, reef);
    parallel(count(), [&](std::size_t begin, std::size_t end) {
        for (std::size_t i = begin; i < end; ++i) {
            if (reef.colonies[i].present)
                observe_colony(i, light_now[i], snapshot.step_d, snapshot.colonies[i]);
            else
                reef.colonies[i].stage = Stage::absent;
        }
    });
}

void Forecast::State::observe_sand(Snapshot& snapshot) {
    const double to_d = snapshot.day_d + snapshot.step_d;
    const auto events = sand->events(options.seed, static_cast<std::uint32_t>(options.member),
                                     snapshot.day_d, to_d);
    parallel(count(), [&](std::size_t begin, std::size_t end) {
        for (std::size_t i = begin; i < end; ++i) {
            const ColonyState& colony = reef.colonies[i];
            if (!colony.present) continue;
            const Vec3 top = top_of(colony);
            const double wake =
                wake_factor(bodies, static_cast<int>(i), top, flow->velocity_m_s(top));
            coming_sand[i] =
                colony_sand(*sand, taxon(i), colony, wake, events, snapshot.day_d, to_d);
            snapshot.colonies[i].flow_speed_m_s = coming_sand[i].flow_speed_m_s;
            snapshot.colonies[i].deposition_kg_m2_d = coming_sand[i].deposition_kg_m2_d;
            snapshot.colonies[i].sand_by = coming_sand[i].by;
        }
    });
}

ColonyStep Forecast::State::step_of(std::size_t i, const Snapshot& snapshot) const {
    ColonyStep step;
    step.from_d = snapshot.day_d;
    step.step_d = snapshot.step_d;
    step.taxon = &taxon(i);
    step.colony = &layout.colonies[i];
    step.index = static_cast<int>(i);
    step.full_growth_net = full_growth_net[i];
    step.growth_temperature_factor = growth_temperature_factor(temperature_C);
    step.equilibrium_saturation_umol_m2_s =
        equilibrium_saturation_umol_m2_s(taxon(i), carbon[i].peak_umol_m2_s);
    return step;
}

void Forecast::State::advance_colony(std::size_t i, const Snapshot& snapshot) {
    ColonyState& state = reef.colonies[i];
    if (!state.present || state.stage == Stage::dead) return;
    const ColonyStep step = step_of(i, snapshot);
    grow(step, carbon[i], around, state);
    live_on_light(step, carbon[i], state);
    bear_sand(coming_sand[i].step, state);
    contacts.sting(i, snapshot.step_d, state);
    irritate(irritations[i], snapshot.step_d, state);
    bury_the_dead(state);
}

/// One after another, since each may stand in another's way.
void Forecast::State::move_loose_colonies(const Snapshot& snapshot) {
    LooseStep step{*flow,
                   options.seed,
                   static_cast<std::uint32_t>(options.member),
                   snapshot.day_d,
                   snapshot.day_d + snapshot.step_d,
                   std::vector<Vec2>(count(), Vec2::Zero())};
    const std::size_t lamps = light->lamp_count();
    for (std::size_t i = 0; i < count(); ++i)
        if (taxon(i).mobility_m_d >= kPhototaxisMobility_m_d)
            step.brighter[i] = brighter_side(light->colonies()[i].patch_umol_m2_s, lamps);
    falls = move_loose(step, around, reef);
}

Forecast::Forecast(const Layout& layout, const ForecastOptions& options, ParallelFor parallel)
    : state_(std::make_unique<State>(layout, options, std::move(parallel))) {}

Forecast::~Forecast() = default;

Snapshot Forecast::observe(double step_d) {
    Snapshot snapshot;
    snapshot.day_d = state_->reef.day_d;
    snapshot.step_d = step_d;
    snapshot.applied_actions = std::exchange(state_->applied_actions, {});
    snapshot.falls = std::exchange(state_->falls, {});
    snapshot.colonies.resize(state_->count());
    state_->light->follow(state_->reef, state_->parallel);
    state_->observe_flow();
    state_->observe_bed(snapshot);
    state_->temperature_C = temperature_on_C(state_->layout, snapshot.day_d);
    state_->observe_sand(snapshot);  // and flow, which carbon hangs on
    state_->observe_colonies(snapshot);
    snapshot.reef = state_->reef;
    return snapshot;
}

void Forecast::advance(const Snapshot& snapshot) {
    state_->around.set_colonies(state_->reef);
    state_->contacts.note(find_contacts(state_->around, state_->reef, state_->options.seed,
                                        static_cast<std::uint32_t>(state_->options.member)),
                          snapshot.day_d, snapshot.step_d);
    state_->parallel(state_->count(), [&](std::size_t begin, std::size_t end) {
        for (std::size_t i = begin; i < end; ++i) state_->advance_colony(i, snapshot);
    });
    state_->move_loose_colonies(snapshot);
    state_->reef.day_d = snapshot.day_d + snapshot.step_d;
}

bool Forecast::run(const std::vector<SnapshotSink*>& sinks,
                   const std::function<bool(double)>& go_on) {
    return run_until(std::numeric_limits<double>::infinity(), sinks, go_on);
}

bool Forecast::run_until(double until_d, const std::vector<SnapshotSink*>& sinks,
                         const std::function<bool(double)>& go_on) {
    const double horizon = horizon_d();
    const double step_d = state_->layout.season.step_d;
    constexpr double kSliver_d = 1e-6;  // a last step shorter than this is rounding
    const int whole_steps = static_cast<int>(std::floor((horizon + kSliver_d) / step_d));
    for (int k = static_cast<int>(std::floor((state_->reef.day_d + kSliver_d) / step_d));;) {
        // Days are counted, not summed, so that they carry no rounding of their own.
        const double step_end = k < whole_steps ? (k + 1) * step_d : horizon;
        // A deed on its way there ends the step early.
        const double next = std::min(step_end, state_->next_action_d());
        const double left = next - state_->reef.day_d;
        const bool last = left <= kSliver_d;
        const Snapshot snapshot = observe(last ? 0.0 : left);
        for (SnapshotSink* sink : sinks) sink->take(snapshot);
        if (last) return true;
        if (!go_on(snapshot.day_d / horizon)) return false;
        advance(snapshot);
        state_->reef.day_d = next;
        if (next > until_d - kSliver_d) return true;
        state_->settle(apply_settings(next, state_->layout));
        state_->apply_todays_actions();
        if (next > step_end - kSliver_d) ++k;
    }
}

SeasonSoFar Forecast::so_far() const {
    SeasonSoFar so_far;
    so_far.day_d = state_->reef.day_d;
    for (std::size_t i = 0; i < state_->count(); ++i) {
        ColonySoFar& colony = so_far.colonies.emplace_back();
        colony.state = state_->reef.colonies[i];
        state_->fill(i, colony.memory.emplace());
    }
    state_->contacts.fill(state_->layout, so_far);
    so_far.tank = state_->light->memory();
    return so_far;
}

const BedGrid& Forecast::grid() const { return state_->light->grid(); }

double Forecast::horizon_d() const { return state_->layout.season.months * kDaysPerMonth; }

const FlowField& Forecast::flow() const { return *state_->first_flow; }

std::vector<double> Forecast::light_at(std::span<const LightReceptor> receptors) const {
    return state_->light->points(receptors);
}

}  // namespace bedshade
