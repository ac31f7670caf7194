// The lamps' day as a handful of moments: what integrals over a day of light are summed over.
#pragma once

#include <cstddef>
#include <span>
#include <vector>

#include "model/reef/lamp.h"

namespace bedshade {

/// Moments of a day and the hours each stands for. Where no lamp's output changes one moment stands
/// for all those hours, so those parts are exact; a ramp is four Gauss-Legendre moments; moments of
/// the same light are one; darkness has none.
struct LightDay {
    std::size_t lamps = 0;
    std::vector<double> hours;          ///< by moment [h]
    std::vector<double> share;          ///< of each lamp's plateau output, [moment][lamp] [1]
    std::vector<double> plateau_hours;  ///< by lamp: hours at plateau with the same photons [h]
    /// Of each lamp's plateau output just before and just after some ramp begins or ends,
    /// [turn][before, after][lamp] [1].
    std::vector<double> breakpoint_share;
    bool same_schedule = true;  ///< all lamps keep the same day

    std::size_t nodes() const { return hours.size(); }
};

/// The day that lamps keep together.
LightDay light_day(std::span<const LampDay> days);

/// The day of one lamp that is fully on for `hours_on` and off for the rest.
LightDay square_day(double hours_on);

/// Photons of a day [mol m-2 d-1] where each lamp gives `plateau` [umol m-2 s-1] at its plateau.
double dli_mol_m2_d(const LightDay& day, std::span<const double> plateau_umol_m2_s);

/// The day's brightest light [umol m-2 s-1].
double peak_umol_m2_s(const LightDay& day, std::span<const double> plateau_umol_m2_s);

}  // namespace bedshade
