// How much light a colony needs: the factor on all its light that just balances its carbon.
#pragma once

#include <span>

#include "model/growth/energy.h"

namespace bedshade {

/// The light on a colony's patches.
struct PatchLight {
    std::span<const double> plateau_umol_m2_s;  ///< [patch][lamp], lamps at their plateau
    std::span<const double> weight;             ///< by patch: live area, in any unit
};

/// The colony's day's net carbon with all its light times `scale`: the weighted mean of its
/// patches'. 0 when nothing of it has weight.
double mean_net_carbon(const Tissue& tissue, const LightDay& day, const PatchLight& light,
                       double scale = 1.0);

/// The weighted mean of the day's photons [mol m-2 d-1].
double mean_dli_mol_m2_d(const LightDay& day, const PatchLight& light);

/// The least factor by which all light on the colony must be multiplied for its mean net carbon to
/// be zero, to 1e-7 of a dark-respiration day; the tissue keeps its acclimation. Times the light it
/// has, that is its need. `guess`, last step's answer, saves work and changes the answer within
/// that tolerance only.
///
/// 0 when it needs no light (its net carbon in the dark is not negative); infinity when no light
/// would do: none falls on it, its hours of light are too few, or strong light harms it before it
/// has enough (a window of light narrower than a tenth of itself may count as none).
double need_scale(const Tissue& tissue, const LightDay& day, const PatchLight& light,
                  double guess = 1.0);

}  // namespace bedshade
