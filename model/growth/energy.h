// Photosynthesis and the carbon balance of coral tissue: light in, net carbon, reserve and growth
// out. Pure functions; none allocates.
//
// Carbon is counted in dark-respiration days: 1 is what unshaded tissue respires in a day.
//
//   net = c * PR * (1/24 h) * integral of tanh(E/(c Ek)) * inhibition(E) dt  -  q * r  +  q * h * f
//
// tanh(E/Ek): Jassby & Platt 1976. PR = 1/tanh(Ec/Ek_low), so that gross photosynthesis meets
// respiration at the compensation light Ec. c: what water and warmth allow of it in bright light;
// the slope in dim light, which light alone limits, does not depend on it. q: respiration, lower in
// shade (about a fifth, from memory); r: warmth's part in it. h: share of respiration met by food;
// f: how well it is fed. c, r and f are 1 in the water that the table's figures hold for
// (milieu.h).
#pragma once

#include <limits>
#include <span>

#include "model/growth/ambient_conditions.h"
#include "model/growth/light_day.h"
#include "model/reef/taxon.h"

namespace bedshade {

inline constexpr double kNoInhibition_umol_m2_s = std::numeric_limits<double>::infinity();

/// What the balance of a piece of tissue depends on, worked out once for a colony's day.
struct Tissue {
    double production_ratio = 0.0;      ///< c * PR; 0 without photosynthesis
    double saturation_umol_m2_s = 0.0;  ///< c * Ek
    double inhibition_umol_m2_s = kNoInhibition_umol_m2_s;
    double dli_min_mol_m2_d = 0.0, dli_full_mol_m2_d = 0.0;
    double respiration = 1.0;  ///< r
    double food_share = 0.0;   ///< h * f

    bool photosynthetic() const { return production_ratio > 0.0; }
};

/// The tissue of a taxon acclimated to `saturation_umol_m2_s`, in some water.
Tissue tissue_of(const Taxon& taxon, double saturation_umol_m2_s,
                 const AmbientConditions& ambient = {});

/// The same without harm from strong light.
Tissue without_inhibition(Tissue tissue);

/// Share of photosynthesis left at light E: 1 up to the taxon's onset, exp(-(E/onset - 1)) above
/// it (a guess: no source gives the fall for these corals).
double inhibition_share(double light_umol_m2_s, double onset_umol_m2_s);

/// The day's mean of tanh(E/Ek) times inhibition, 0 to 1, on a patch that each lamp gives
/// `plateau_umol_m2_s` at its plateau; all of them times `scale`.
double gross_per_day(const Tissue& tissue, const LightDay& day,
                     std::span<const double> plateau_umol_m2_s, double scale = 1.0);

/// The same where all lamps keep the same day (`day.together`): their light summed.
double gross_per_day(const Tissue& tissue, const LightDay& day, double plateau_umol_m2_s);

/// q: 0.8 up to the least light it can live on, rising linearly to 1 at full growth. 1 without
/// photosynthesis.
double respiration_share(const Tissue& tissue, double dli_mol_m2_d);

/// The day's net carbon [dark-respiration days per day] from its gross photosynthesis and light.
double net_carbon(const Tissue& tissue, double gross, double dli_mol_m2_d);

/// The day's net carbon of one patch.
double net_carbon(const Tissue& tissue, const LightDay& day,
                  std::span<const double> plateau_umol_m2_s, double scale = 1.0);

/// Ek that tissue settles at in a day whose brightest light is `peak_umol_m2_s`: two thirds of it,
/// within the taxon's range, so that full growth, at 1.5 Ek, is reached on its shade-acclimated
/// end (a guess). 0 without photosynthesis.
double equilibrium_saturation_umol_m2_s(const Taxon& taxon, double peak_umol_m2_s);

/// Ek after `step_d` on the way to `settled`, exact for a light that does not change meanwhile:
/// dEk/dt = (settled - Ek) / tau, tau the taxon's acclimation time.
double acclimated_saturation_umol_m2_s(const Taxon& taxon, double now_umol_m2_s,
                                       double equilibrium_umol_m2_s, double step_d);

/// The taxon's net carbon in full growth: dli_full over ten even hours, acclimated to it, fed, in
/// the ordinary flow, at 26 degC.
double full_growth_net_carbon(const Taxon& taxon);

/// Share of the taxon's full extension rate that a net carbon pays for, 0 to 1; 0 for a taxon
/// whose full net carbon is not positive.
double extension_share(double net_carbon, double full_growth_net_carbon);

/// Reserve [0, 1] after `step_d` at an unchanging net carbon: dr/dt = net / reserve_d.
double reserve_after(const Taxon& taxon, double reserve, double net_carbon, double step_d);

/// Days until the reserve is spent at an unchanging net carbon; infinity when it is not falling.
double days_until_spent(const Taxon& taxon, double reserve, double net_carbon);

}  // namespace bedshade
