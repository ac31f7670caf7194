// Quadrature nodes of the lamps' day, for integrals over a day of light.
#pragma once

#include <cstddef>
#include <span>
#include <vector>

#include "model/reef/lamp.h"

namespace bedshade {

/// Nodes of a day with their weights in hours. Hours of constant output of all lamps are one node
/// (exact); a ramp has four Gauss-Legendre nodes; nodes of the same light are merged; darkness has
/// none.
struct LightDay {
    std::size_t lamps = 0;
    std::vector<double> hours;  ///< by node [h]
    std::vector<double> share;  ///< fraction of each lamp's plateau output, [node][lamp] [1]
    std::vector<double> plateau_hours;  ///< by lamp: hours at plateau with the same photons [h]
    /// Fraction of each lamp's plateau output just before and just after each beginning or end of a
    /// ramp, [breakpoint][before, after][lamp] [1].
    std::vector<double> breakpoint_share;
    bool same_schedule = true;  ///< all lamps have the same schedule

    std::size_t nodes() const { return hours.size(); }
};

/// The day of several lamps.
LightDay light_day(std::span<const LampDay> days);

/// The day of one lamp that is fully on for `hours_on` and off otherwise.
LightDay square_day(double hours_on);

/// Daily light integral (DLI) [mol m-2 d-1] from the light of each lamp at plateau [umol m-2 s-1].
double dli_mol_m2_d(const LightDay& day, std::span<const double> plateau_umol_m2_s);

/// The day's brightest light [umol m-2 s-1].
double peak_umol_m2_s(const LightDay& day, std::span<const double> plateau_umol_m2_s);

}  // namespace bedshade
