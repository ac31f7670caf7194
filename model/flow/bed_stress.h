// Bed shear stress on the grains: the logarithmic law of the wall over grain roughness.
//
// Skin friction only, as sand motion needs it; the drag of colonies and rock is not in it.
#pragma once

#include "model/flow/seawater.h"

namespace bedshade {

inline constexpr double kVonKarman = 0.40;

/// Height above the bed at which the speed for the bed stress is sampled [m].
inline constexpr double kStressHeight_m = 0.05;

/// Roughness height of a flat bed of grains in fully rough flow: ks/30 with ks = 2.5 d, d/12 [m].
double rough_z0_m(double grain_m);

/// Roughness height at any grain Reynolds number [m] (Christoffersen & Jonsson 1985, as given by
/// Soulsby 1997; from memory). Fully rough above u* ks/nu of about 70.
double transitional_z0_m(double grain_m, double friction_velocity_m_s, const Seawater& sea);

/// Friction velocity of a log profile with this speed at this height above the bed [m/s].
double friction_velocity_m_s(double speed_m_s, double height_m, double z0_m);

/// Stress on the grains [Pa] from the speed at a height above the bed, with the transitional
/// roughness height (fixed-point iteration).
double bed_stress_Pa(double speed_m_s, double height_m, double grain_m, const Seawater& sea);

}  // namespace bedshade
