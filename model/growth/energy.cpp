#include "model/growth/energy.h"

#include <algorithm>
#include <array>
#include <cassert>
#include <cmath>

namespace bedshade {
namespace {

constexpr double kHoursPerDay = 24.0;

/// Respiration in shade against that in full light (about 20 % less, from memory).
constexpr double kShadeRespiration = 0.8;

/// Equilibrium Ek over the day's brightest light (a guess, see the header).
constexpr double kEquilibriumFraction = 2.0 / 3.0;

/// Hours of constant light for which the trait table gives daily light.
constexpr double kTableHours = 10.0;

/// tanh(E/Ek) times inhibition at one moment.
double gross_at(const Tissue& tissue, double light_umol_m2_s) {
    return std::tanh(light_umol_m2_s / tissue.saturation_umol_m2_s) *
           inhibition_share(light_umol_m2_s, tissue.inhibition_umol_m2_s);
}

}  // namespace

Tissue tissue_of(const Taxon& taxon, double saturation_umol_m2_s,
                 const AmbientConditions& ambient) {
    Tissue tissue;
    tissue.food_share = taxon.food_share * ambient.feeding;
    tissue.respiration = ambient.respiration;
    if (!taxon.photosynthetic()) return tissue;
    assert(saturation_umol_m2_s > 0.0 && ambient.capacity > 0.0);
    tissue.production_ratio =
        ambient.capacity / std::tanh(taxon.compensation_umol_m2_s / taxon.saturation_umol_m2_s);
    tissue.saturation_umol_m2_s = ambient.capacity * saturation_umol_m2_s;
    tissue.inhibition_umol_m2_s = taxon.inhibition_umol_m2_s;
    tissue.dli_min_mol_m2_d = taxon.dli_min_mol_m2_d;
    tissue.dli_full_mol_m2_d = taxon.dli_full_mol_m2_d;
    return tissue;
}

Tissue without_inhibition(Tissue tissue) {
    tissue.inhibition_umol_m2_s = kNoInhibition_umol_m2_s;
    return tissue;
}

double inhibition_share(double light_umol_m2_s, double onset_umol_m2_s) {
    return light_umol_m2_s <= onset_umol_m2_s ? 1.0
                                              : std::exp(1.0 - light_umol_m2_s / onset_umol_m2_s);
}

double gross_per_day(const Tissue& tissue, const LightDay& day,
                     std::span<const double> plateau_umol_m2_s, double scale) {
    assert(plateau_umol_m2_s.size() == day.lamps);
    if (!tissue.photosynthetic()) return 0.0;
    double hours = 0.0;
    for (std::size_t m = 0; m < day.nodes(); ++m) {
        double light = 0.0;
        for (std::size_t l = 0; l < day.lamps; ++l)
            light += day.share[m * day.lamps + l] * plateau_umol_m2_s[l];
        hours += day.hours[m] * gross_at(tissue, scale * light);
    }
    return hours / kHoursPerDay;
}

double gross_per_day(const Tissue& tissue, const LightDay& day, double plateau_umol_m2_s) {
    assert(day.same_schedule);
    if (!tissue.photosynthetic()) return 0.0;
    double hours = 0.0;
    for (std::size_t m = 0; m < day.nodes(); ++m)
        hours += day.hours[m] * gross_at(tissue, day.share[m * day.lamps] * plateau_umol_m2_s);
    return hours / kHoursPerDay;
}

double respiration_share(const Tissue& tissue, double dli_mol_m2_d) {
    if (!tissue.photosynthetic()) return 1.0;
    const double brightness = (dli_mol_m2_d - tissue.dli_min_mol_m2_d) /
                              (tissue.dli_full_mol_m2_d - tissue.dli_min_mol_m2_d);
    return kShadeRespiration + (1.0 - kShadeRespiration) * std::clamp(brightness, 0.0, 1.0);
}

double net_carbon(const Tissue& tissue, double gross, double dli_mol_m2_d) {
    const double respired = respiration_share(tissue, dli_mol_m2_d);
    return tissue.production_ratio * gross - respired * tissue.respiration +
           respired * tissue.food_share;
}

double net_carbon(const Tissue& tissue, const LightDay& day,
                  std::span<const double> plateau_umol_m2_s, double scale) {
    return net_carbon(tissue, gross_per_day(tissue, day, plateau_umol_m2_s, scale),
                      scale * dli_mol_m2_d(day, plateau_umol_m2_s));
}

double equilibrium_saturation_umol_m2_s(const Taxon& taxon, double peak_umol_m2_s) {
    return std::clamp(kEquilibriumFraction * peak_umol_m2_s, taxon.saturation_umol_m2_s,
                      taxon.saturation_high_umol_m2_s);
}

double acclimated_saturation_umol_m2_s(const Taxon& taxon, double now_umol_m2_s,
                                       double equilibrium_umol_m2_s, double step_d) {
    return equilibrium_umol_m2_s +
           (now_umol_m2_s - equilibrium_umol_m2_s) * std::exp(-step_d / taxon.acclimation_d);
}

double full_growth_net_carbon(const Taxon& taxon) {
    const LightDay day = square_day(kTableHours);
    const std::array full_umol_m2_s = {taxon.dli_full_mol_m2_d /
                                       dli_mol_m2_d(day, std::array{1.0})};
    const double saturation = equilibrium_saturation_umol_m2_s(taxon, full_umol_m2_s[0]);
    return net_carbon(tissue_of(taxon, saturation), day, full_umol_m2_s);
}

double extension_share(double net_carbon, double full_growth_net_carbon) {
    if (full_growth_net_carbon <= 0.0) return 0.0;
    return std::clamp(net_carbon / full_growth_net_carbon, 0.0, 1.0);
}

double reserve_after(const Taxon& taxon, double reserve, double net_carbon, double step_d) {
    return std::clamp(reserve + net_carbon * step_d / taxon.reserve_d, 0.0, 1.0);
}

double days_until_spent(const Taxon& taxon, double reserve, double net_carbon) {
    if (net_carbon >= 0.0) return std::numeric_limits<double>::infinity();
    return reserve * taxon.reserve_d / -net_carbon;
}

}  // namespace bedshade
