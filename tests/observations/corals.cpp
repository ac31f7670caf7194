#include "tests/observations/corals.h"

#include <algorithm>
#include <array>
#include <stdexcept>

#include "model/contact/contact.h"
#include "model/growth/energy.h"
#include "model/growth/extension.h"
#include "model/growth/recession.h"
#include "model/growth/walking.h"
#include "model/sediment/sand_load.h"
#include "model/sediment/sediment_rejection.h"

#include "sim/input/traits/traits_reader.h"

namespace bedshade::test {
namespace {

constexpr double kHours = 10.0;
constexpr double kMolPerUmolHour = 0.0036;

LightDay even_day() {
    const std::array<LampDay, 1> days = {LampDay{10.0, 10.0 + kHours, 0.0}};
    return light_day(days);
}

double plateau_of(double dli_mol_m2_d) { return dli_mol_m2_d / (kHours * kMolPerUmolHour); }

double net_of(const Taxon& taxon, double dli_mol_m2_d, const AmbientConditions& ambient) {
    const double plateau = plateau_of(dli_mol_m2_d);
    const Tissue tissue =
        tissue_of(taxon, equilibrium_saturation_umol_m2_s(taxon, plateau), ambient);
    const std::array<double, 1> by_lamp = {plateau};
    return net_carbon(tissue, even_day(), by_lamp);
}

}  // namespace

const Taxon& table_row(const std::string& id) {
    static const TraitTable table = builtin_traits();
    const Taxon* const row = table.find(id);
    if (row == nullptr) throw std::invalid_argument("no such row: " + id);
    return *row;
}

ColonyState grown(const Taxon& taxon, double diameter_m, double days) {
    Layout layout;
    layout.tank.length_m = layout.tank.width_m = 8.0;
    layout.tank.water_depth_m = 4.0;
    layout.taxa = {taxon};
    layout.colonies.emplace_back();
    Reef reef;
    ColonyState state;
    state.position_m = {4.0, 4.0, 1.0};
    state.radius_m.fill(0.5 * diameter_m);
    state.height_m = 0.02;
    reef.colonies = {state};
    Surroundings around(layout);
    RadialProfile full_light;
    full_light.fill(1.0);
    for (double day = 0.0; day < days - 1e-9; day += 7.0) {
        around.set_colonies(reef);
        const Extension step =
            extend(around, 0, reef.colonies[0], full_light, std::min(7.0, days - day));
        reef.colonies[0].radius_m = step.radius_m;
        reef.colonies[0].height_m = step.height_m;
    }
    return reef.colonies[0];
}

double radius_gain_mm(const Taxon& taxon) {
    constexpr double kStart_m = 0.03, kYear_d = 365.25;
    return 500.0 * (mean_diameter_m(grown(taxon, kStart_m, kYear_d).radius_m) - kStart_m);
}

double growth_share(const Taxon& taxon, double dli_mol_m2_d, const AmbientConditions& ambient) {
    return extension_share(net_of(taxon, dli_mol_m2_d, ambient), full_growth_net_carbon(taxon));
}

double reserve_left(const Taxon& taxon, double dli_mol_m2_d, double days,
                    const AmbientConditions& ambient) {
    return reserve_after(taxon, 1.0, net_of(taxon, dli_mol_m2_d, ambient), days);
}

double days_to_burial(const Taxon& taxon, double fallout_mg_cm2_d, double within_d,
                      double plateau_umol_m2_s) {
    constexpr double kKgM2PerMgCm2 = 0.01;
    const LightDay day = even_day();
    SandLoad load;
    double reserve = 1.0;
    for (double from_d = 0.0; from_d < within_d; from_d += 1.0) {
        const SandStep step{from_d,
                            from_d + 1.0,
                            fallout_mg_cm2_d * kKgM2PerMgCm2,
                            1.0,  // experiments give the deposition on the tissue
                            rejection_rate_per_d(taxon, 0.0, reserve),
                            taxon.burial_d,
                            {}};
        const SandOutcome outcome = follow_sand(load, step);
        if (outcome.buried_at_d) return *outcome.buried_at_d;
        load = outcome.end;
        const double light = plateau_umol_m2_s * outcome.mean_transmittance;
        const Tissue tissue = tissue_of(taxon, equilibrium_saturation_umol_m2_s(taxon, light));
        const std::array<double, 1> by_lamp = {light};
        reserve = reserve_after(taxon, reserve, net_carbon(tissue, day, by_lamp), 1.0);
    }
    return 1e9;
}

double longest_walk_cm(const Taxon& taxon, int days) {
    double longest_m = 0.0;
    for (int day = 0; day < days; ++day)
        longest_m =
            std::max(longest_m, days_walk_m(taxon, 0.04, Vec2::Zero(), 1, 0, day, 0).norm());
    return 100.0 * longest_m;
}

double walk_toward_light_cm_d(const Taxon& taxon) {
    constexpr int kDays = 365;
    Vec2 walk_m = Vec2::Zero();
    for (int day = 0; day < kDays; ++day)
        walk_m += days_walk_m(taxon, 0.04, Vec2(0.3, 0.0), 1, 0, day, 0);
    return 100.0 * walk_m.x() / kDays;
}

double hours_to_dig_out(const Taxon& taxon) {
    SandStep step;
    step.to_d = 30.0;
    step.rejection_per_d = rejection_rate_per_d(taxon, 0.0);
    step.burial_d = taxon.burial_d;
    if (digs_itself_out(taxon, 1.0)) step.digs_out_d = kDigsOut_d;
    constexpr double kCentimetre_kg_m2 = 15.0;
    double under_h = 0.0;
    for (double to_d = 1.0 / 24.0; to_d < 30.0; to_d += 1.0 / 24.0) {
        step.to_d = to_d;
        const SandOutcome outcome = follow_sand({kCentimetre_kg_m2, 0.0}, step);
        if (outcome.buried_at_d || outcome.end.load_kg_m2 < kSmotheringLoad_kg_m2) break;
        under_h = 24.0 * to_d;
    }
    return under_h;
}

double lost_to_chemistry(const Taxon& taxon, const Taxon& soft, double gap_cm, double days) {
    Layout layout;
    layout.tank.length_m = layout.tank.width_m = 1.0;
    layout.tank.water_depth_m = 0.5;
    layout.taxa = {soft, taxon};
    layout.colonies.resize(2);
    layout.colonies[1].taxon = 1;
    Reef reef;
    for (const double x_m : {0.4, 0.48 + 0.01 * gap_cm}) {
        ColonyState state;
        state.stage = Stage::growing;
        state.position_m = {x_m, 0.5, 0.0};
        state.radius_m.fill(0.04);
        state.height_m = 0.06;
        reef.colonies.push_back(state);
    }
    Surroundings around(layout);
    around.set_colonies(reef);
    double live = 1.0;
    for (double day = 0.0; day < days; day += 7.0) {
        live = healed(live, 0.04, taxon.extension_mm_yr.mean, 7.0);
        for (const Contact& contact : find_contacts(around, reef))
            if (contact.loser == 1)
                live = stung(live, 0.04, contact.loss_mm_d, 7.0, contact.touched, contact.depth_m);
    }
    return 1.0 - live;
}

}  // namespace bedshade::test
