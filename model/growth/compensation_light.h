// Compensation light of a colony ("need"): the factor on all its light at which its daily carbon
// balance is zero.
//
//   N(c) = sum_p w_p net(c E_p) / sum_p w_p = 0      solved for the smallest c > 0
//
// E_p: light on patch p by lamp at plateau [umol m-2 s-1]; w_p: weight of the patch (live area);
// net: daily net carbon of a patch [dark-respiration days per day], model/growth/energy.h. The
// tissue keeps its acclimation (Ek). Without inhibition N rises with c and the root is bracketed
// and found by regula falsi with the Illinois step (Dowell & Jarratt 1971); with inhibition the
// search continues upward from there. c times the colony's daily light is its compensation light.
#pragma once

#include <span>

#include "model/growth/energy.h"

namespace bedshade {

/// The light on a colony's patches.
struct PatchLight {
    std::span<const double> plateau_umol_m2_s;  ///< [patch][lamp], lamps at their plateau
    std::span<const double> weight;             ///< by patch: live area, in any unit
};

/// N: daily net carbon of the colony with all its light times `scale`, the weighted mean over its
/// patches. 0 when the total weight is 0.
double mean_net_carbon(const Tissue& tissue, const LightDay& day, const PatchLight& light,
                       double scale = 1.0);

/// Weighted mean of the daily light (DLI) [mol m-2 d-1].
double mean_dli_mol_m2_d(const LightDay& day, const PatchLight& light);

/// The smallest factor c on all light of the colony at which its mean net carbon is zero, to 1e-7
/// of a dark-respiration day. `guess`, the result of the last step, saves iterations and changes
/// the result only within that tolerance.
///
/// 0 when its net carbon in the dark is not negative; infinity when no factor suffices: it has no
/// light, its day is too short, or inhibition prevents balance (a range of sufficient light
/// narrower than a tenth of itself may be missed).
double need_scale(const Tissue& tissue, const LightDay& day, const PatchLight& light,
                  double guess = 1.0);

}  // namespace bedshade
