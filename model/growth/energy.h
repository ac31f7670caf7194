// Photosynthesis and the carbon balance of coral tissue: light in, net carbon, reserve and growth
// out. Pure functions; none allocates.
//
// Unit of carbon: dark-respiration days; 1 is the respiration of unshaded tissue in a day.
//
//   net = c * PR * (1/24 h) * integral of tanh(E/(c Ek)) * inhibition(E) dt  -  q * r  +  q * h * f
//
// tanh(E/Ek): Jassby & Platt 1976. PR = 1/tanh(Ec/Ek_low), so that gross photosynthesis meets
// respiration at the compensation light Ec. c: factor of flow and temperature on photosynthesis in
// bright light; the slope in dim light does not depend on it. q: respiration, lower in shade (about
// a fifth, from memory); r: temperature factor of respiration. h: share of respiration met by food;
// f: feeding factor. c, r and f are 1 in the conditions of the trait table (ambient_conditions.h).
#pragma once

#include <limits>
#include <span>

#include "model/growth/ambient_conditions.h"
#include "model/growth/light_day.h"
#include "model/reef/taxon.h"

namespace bedshade {

inline constexpr double kNoInhibition_umol_m2_s = std::numeric_limits<double>::infinity();

/// Parameters of the carbon balance of tissue, computed once per colony and day.
struct Tissue {
    double production_ratio = 0.0;      ///< c * PR; 0 without photosynthesis
    double saturation_umol_m2_s = 0.0;  ///< c * Ek
    double inhibition_umol_m2_s = kNoInhibition_umol_m2_s;
    double dli_min_mol_m2_d = 0.0, dli_full_mol_m2_d = 0.0;
    double respiration = 1.0;  ///< r
    double food_share = 0.0;   ///< h * f

    bool photosynthetic() const { return production_ratio > 0.0; }
};

/// The tissue of a taxon acclimated to `saturation_umol_m2_s`, in ambient conditions.
Tissue tissue_of(const Taxon& taxon, double saturation_umol_m2_s,
                 const AmbientConditions& ambient = {});

/// The same without inhibition by strong light.
Tissue without_inhibition(Tissue tissue);

/// Inhibition factor on photosynthesis at light E: 1 up to the taxon's onset, exp(-(E/onset - 1))
/// above it (a guess: no source gives the fall for these corals).
double inhibition_share(double light_umol_m2_s, double onset_umol_m2_s);

/// The day's mean of tanh(E/Ek) times inhibition, 0 to 1, on a patch with light `plateau_umol_m2_s`
/// by lamp at plateau, times `scale`.
double gross_per_day(const Tissue& tissue, const LightDay& day,
                     std::span<const double> plateau_umol_m2_s, double scale = 1.0);

/// The same where all lamps have the same schedule (`day.together`): their light summed.
double gross_per_day(const Tissue& tissue, const LightDay& day, double plateau_umol_m2_s);

/// q: 0.8 up to dli_min, rising linearly to 1 at dli_full. 1 without photosynthesis.
double respiration_share(const Tissue& tissue, double dli_mol_m2_d);

/// The day's net carbon [dark-respiration days per day] from its gross photosynthesis and light.
double net_carbon(const Tissue& tissue, double gross, double dli_mol_m2_d);

/// The day's net carbon of one patch.
double net_carbon(const Tissue& tissue, const LightDay& day,
                  std::span<const double> plateau_umol_m2_s, double scale = 1.0);

/// Equilibrium Ek for a day whose brightest light is `peak_umol_m2_s`: two thirds of it, within the
/// taxon's range, so that full growth, at 1.5 Ek, is reached at its shade-acclimated end (a guess).
/// 0 without photosynthesis.
double equilibrium_saturation_umol_m2_s(const Taxon& taxon, double peak_umol_m2_s);

/// Ek after `step_d`, exact for constant light: dEk/dt = (equilibrium - Ek) / tau, tau the taxon's
/// acclimation time.
double acclimated_saturation_umol_m2_s(const Taxon& taxon, double now_umol_m2_s,
                                       double equilibrium_umol_m2_s, double step_d);

/// The taxon's net carbon in full growth: dli_full over ten hours of constant light, acclimated to
/// it, fed, in ordinary flow, at 26 degC.
double full_growth_net_carbon(const Taxon& taxon);

/// Fraction of the taxon's full extension rate at a net carbon, 0 to 1; 0 for a taxon whose full
/// net carbon is not positive.
double extension_share(double net_carbon, double full_growth_net_carbon);

/// Reserve [0, 1] after `step_d` at a constant net carbon: dr/dt = net / reserve_d.
double reserve_after(const Taxon& taxon, double reserve, double net_carbon, double step_d);

/// Days until the reserve is exhausted at a constant net carbon; infinity when it is not
/// decreasing.
double days_until_spent(const Taxon& taxon, double reserve, double net_carbon);

}  // namespace bedshade
