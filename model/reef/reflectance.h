// Diffuse reflectance of living surfaces, shared by radiosity and Monte Carlo photon transport so
// that these differ in method only.
//
// All are Lambertian, for photons in 400-700 nm. Reflectances of sand and rock are in the layout.
#pragma once

namespace bedshade {

/// Glass overgrown by crustose coralline algae: the mean of two genera of calcified red algae over
/// a flat photon spectrum (Maritorena, Morel & Gentili 1994, L&O 39:1689, Fig. 6) [1].
inline constexpr double kCorallineReflectance = 0.11;

/// Live brown coral tissue, 0.06-0.10 over 400-700 nm (after Hochberg et al. 2003, Remote Sens.
/// Environ. 85:159; value from memory) [1].
inline constexpr double kTissueReflectance = 0.08;

}  // namespace bedshade
